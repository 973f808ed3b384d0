import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { decoder } from '../../src/clip/decode.js';
import { jpegEncoder, pngEncoder } from '../../src/clip/encode.js';
import { luminanceFrames, openClip } from '../../src/clip/open.js';
import { decodeStill, type StillsSource } from '../../src/clip/stills.js';
import { NoiseMeter } from '../../src/measure/weather/noise.js';
import { Cache } from '../../src/store/cache.js';
import { createWeather } from '../../src/weather/weather.js';
import { makeSetup } from '../weather/made.js';
import { measure, print, printRatio } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const FRAMES = 32;
/** As many as a sample of a clip has. */
const SAMPLED = 64;
const { folder, remove } = scratch();
afterAll(remove);

it('storing simulated stills against decoding those they are made from', async () => {
  const cache = new Cache(join(folder, 'cache'));
  const clip = await openClip(await writeStills(join(folder, 'calm'), SAMPLED, 0), { cache });
  const [width, height] = [clip.width, clip.height];
  const { analysis } = defaultCamera;
  const source = clip.source as StillsSource;
  const by = await decoder();
  const [png, jpeg] = [await pngEncoder(), await jpegEncoder()];
  const at = { width: analysis.width, height: analysis.height };
  const noise = { at, own: null, measured: false, readNoise: false, limits: false, how: [] };
  const weather = () =>
    createWeather(makeSetup(width, height, { from: { light: 20_000 }, to: { light: 20 }, noise }));
  const dusk = weather();
  const pictures: { pixels: Uint8Array; channels: 1; width: number; height: number }[] = [];
  const indices = Array.from({ length: FRAMES }, (_, k) => k);
  const recorded: Uint8Array[] = [];
  for await (const y of luminanceFrames(clip, indices, { width, height })) {
    recorded.push(Uint8Array.from(y));
    pictures.push({ pixels: Uint8Array.from(dusk.apply(y, recorded.length)), channels: 1, width, height });
  }
  const sampled: Uint8Array[] = [];
  const sample = Array.from({ length: SAMPLED }, (_, k) => k);
  for await (const y of luminanceFrames(clip, sample, at)) sampled.push(Uint8Array.from(y));
  const each = (act: (k: number) => unknown) => async () => {
    for (const k of indices) await act(k);
  };
  const stored = await Promise.all(pictures.map((picture) => png(picture)));
  const lossy = await Promise.all(pictures.map((picture) => jpeg(picture)));
  const times = await measure(
    {
      'decoding a still, 640x480': each((k) => decodeStill(source, k, by)),
      'low light on it': () => {
        const light = weather();
        recorded.forEach((y, k) => void light.apply(y, k / 5));
      },
      'storing as PNG': each((k) => png(pictures[k]!)),
      'storing as JPEG': each((k) => jpeg(pictures[k]!)),
      'decoding the PNG': each((k) => by.decode(Buffer.from(stored[k]!))),
      'reading the sample at 320x240': async () => {
        for await (const _ of luminanceFrames(clip, sample, at));
      },
      'photon transfer of the sample': async () => {
        const meter = new NoiseMeter(clip, at);
        for (const [k, y] of sampled.entries()) meter.see(y, k % 8 === 0);
        await meter.measure();
      },
    },
    { warmUp: 2, rounds: 12 },
  );
  print(`A frame, of ${FRAMES} (the sample: of ${SAMPLED})`, times, FRAMES);
  const kilobytes = (files: readonly Uint8Array[]) =>
    files.reduce((sum, { length }) => sum + length, 0) / files.length / 1024;
  process.stdout.write(
    `  kilobytes a frame: ${kilobytes(stored).toFixed(0)} as PNG, ${kilobytes(lossy).toFixed(0)} as JPEG\n`,
  );
  const decoding = times['decoding a still, 640x480'].median;
  const storing = times['storing as PNG'].median / decoding;
  printRatio('storing as PNG / decoding', storing, 'at most 2');
  expect.soft(storing).toBeLessThanOrEqual(2);
  const riding =
    times['photon transfer of the sample'].median / times['reading the sample at 320x240'].median;
  printRatio('photon transfer / reading its sample', riding, 'at most 1');
  expect.soft(riding).toBeLessThanOrEqual(1);
});
