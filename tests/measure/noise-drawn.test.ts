import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { noiseOf } from '../../src/measure/weather/noise.js';
import { sensorOf } from '../../src/measure/weather/noise-sensor.js';
import { setupFor } from '../../src/measure/weather/setup-for.js';
import { Cache } from '../../src/store/cache.js';
import { lightVariance } from '../../src/weather/sensor/sensor.js';
import { type Drawing, drawStillLife } from '../weather/still-life.js';

const folder = mkdtempSync(join(tmpdir(), 'noise-drawn-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

const size = { width: 320, height: 240 };
/** Red, green and blue in the weights of BT.601: this much of a channel's variance is left in luminance. */
const SHARE = 0.299 ** 2 + 0.587 ** 2 + 0.114 ** 2;

async function film(
  name: string,
  {
    rate = 5,
    quality,
    ...drawing
  }: Pick<Drawing, 'gain' | 'readNoise' | 'colour'> & { rate?: number; quality?: number },
): Promise<Clip> {
  const end = quality === undefined ? 'png' : 'jpg';
  const dir = join(folder, name);
  mkdirSync(dir);
  const channels = drawing.colour ? 3 : 1;
  for (const [k, pixels] of drawStillLife({ ...size, seed: `build-${name}`, ...drawing }, 24).entries()) {
    const picture = sharp(pixels, { raw: { ...size, channels } }).toColourspace(
      channels === 1 ? 'b-w' : 'srgb',
    );
    await (quality === undefined ? picture.png({ compressionLevel: 1 }) : picture.jpeg({ quality })).toFile(
      join(dir, `${String(k).padStart(2, '0')}.${end}`),
    );
  }
  writeFileSync(
    join(dir, 'clip.json'),
    JSON.stringify({ version: 1, frames: `*.${end}`, rate, conditions: { light: 10_000 } }),
  );
  return openClip(dir, { cache });
}

describe('grey files seen at the size they are stored at', () => {
  it('have their rounding taken off once', async () => {
    const gain = 0.01;
    const transfer = await noiseOf(await film('grey', { gain, readNoise: 4 }), size);
    if (transfer.kind !== 'measured') throw new Error(transfer.why);
    const ratio = (255 * transfer.line.slope) / gain;
    // 0.87 where it is taken off twice.
    expect(ratio).toBeGreaterThan(0.94);
    expect(ratio).toBeLessThan(1.06);
  });
});

describe('files of JPEG at its best', () => {
  // JPEG rounds luminance to 8 bits before it is transformed and after (ITU-T T.871 and T.81).
  it('have the rounding of their luminance taken off too', async () => {
    const gain = 0.03;
    const clip = await film('jpeg', { gain, readNoise: 3, colour: true, quality: 100 });
    const transfer = await noiseOf(clip, { width: 160, height: 120 });
    if (transfer.kind !== 'measured') throw new Error(transfer.why);
    const ratio = (255 * transfer.line.slope) / ((gain * SHARE) / 4);
    // 1.27 where it is not.
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.1);
  });
});

describe('the dark of drawn frames', () => {
  const [gain, readNoise] = [0.03, 4];
  let clip: Clip;
  beforeAll(async () => {
    clip = await film('colour', { gain, readNoise, colour: true });
  }, 60_000);

  it('is as dark at eight times the gain as the sensor that drew them makes it', async () => {
    const { optics } = await sensorOf({ clip, light: 10_000, camera: {}, at: size });
    // EMVA 1288: K^2 sd^2, of K eight times as large. 0.4 of it where a 1/12 that is not there is taken off.
    const expected = (8 * gain * readNoise) ** 2 * SHARE;
    const ratio = (255 ** 2 * lightVariance(0, 8, optics, size.width)) / expected;
    expect(ratio).toBeGreaterThan(0.75);
    expect(ratio).toBeLessThan(1.25);
  });
});

describe('what is told of a sensor', () => {
  it('is the slope at the size it was measured at, and 960 elements are named as assumed', async () => {
    const gain = 0.2;
    const clip = await film('told', { gain, readNoise: 10, colour: true });
    const [told] = (await sensorOf({ clip, light: 10_000, camera: {}, at: size })).noise.how;
    const [, low, high] = /at 320x240.*\(90 %: ([\d.]+) to ([\d.]+)\)/.exec(told!)!.map(Number);
    expect(low).toBeLessThanOrEqual(gain * SHARE);
    expect(high).toBeGreaterThanOrEqual(gain * SHARE);
    expect(told).toMatch(
      /if 960 elements are read across .*as is assumed.* e- of read noise \([\d.]+ to [\d.]+\)/,
    );
  });

  it('is never that it has no read noise', async () => {
    const clip = await film('silent', { gain: 0.2, readNoise: 0, colour: true });
    const { optics, noise } = await sensorOf({ clip, light: 10_000, camera: {}, at: size });
    expect(noise.how[0]).toMatch(/read noise too little to tell, at most [\d.]+ e- and taken for/);
    expect(noise.how[0]).not.toMatch(/\b0 e-/);
    expect(optics.readNoise).toBeGreaterThan(0);
    // So that it is doubted as what is assumed is.
    expect(noise).toMatchObject({ measured: true, readNoise: false });
  });
});

describe('the noise of a clip of 25 frames a second', () => {
  it('is the same whether foliage is outlined or must be found', async () => {
    const clip = await film('quick', { gain: 0.2, readNoise: 8, colour: true, rate: 25 });
    const found = await setupFor(clip, {}, { light: 20 }, { ...size, seed: '1' });
    const foliage: [number, number][][] = [
      [
        [0, 0],
        [0.2, 0],
        [0.2, 0.2],
      ],
    ];
    writeFileSync(join(clip.dir, 'labels.json'), JSON.stringify({ version: 1, visits: [], foliage }));
    const outlined = await openClip(clip.dir, { cache });
    const given = await setupFor(outlined, {}, { light: 20 }, { ...size, seed: '1' });
    expect(given.setup.noise?.measured).toBe(true);
    expect(given.setup.noise).toEqual(found.setup.noise);
  });
});
