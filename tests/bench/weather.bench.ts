import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { luminanceFrames, openClip } from '../../src/clip/open.js';
import { setupFor } from '../../src/measure/weather/setup-for.js';
import { Cache } from '../../src/store/cache.js';
import type { Conditions } from '../../src/weather/setup.js';
import { createWeather } from '../../src/weather/weather.js';
import { measure, print, printRatio, processorTime } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const FRAMES = 120;
const { folder, remove } = scratch();
afterAll(remove);

// Each size against decoding to that size: 320x240 is reduced while it is decoded, 640x480 is all that is stored.
it.each([
  [320, 240],
  [640, 480],
])('simulating weather at %dx%d against decoding stills of 640x480', async (width, height) => {
  const cache = new Cache(join(folder, 'cache'));
  const clip = await openClip(await writeStills(join(folder, `${width}`), FRAMES, 0), { cache });
  const analysis = { ...defaultCamera.analysis, width, height };
  const camera = { ...defaultCamera, analysis };
  const indices = Uint32Array.from({ length: FRAMES }, (_, i) => i);
  const frames: Uint8Array[] = [];
  for await (const y of luminanceFrames(clip, indices, analysis)) frames.push(Uint8Array.from(y));

  const simulate = async (to: Conditions, cover = false) => {
    const { setup } = await setupFor(clip, camera, to, { width, height, seed: 'bench' });
    // Half the frame foliage, whatever was found in noise.
    const foliage = new Uint8Array(width * height).fill(255, 0, (width * height) / 2);
    const from = { wind: 1, rain: 0, light: 20_000 };
    return () => {
      const weather = createWeather({ ...setup, geometry: { ...setup.geometry, cover }, foliage, from, to });
      frames.forEach((y, k) => {
        weather.apply(y, k / clip.rate);
      });
    };
  };
  const simulated = [
    'wind, Beaufort 5',
    'rain, 4 mm/h',
    'rain, 8 mm/h, on a cover',
    'low light, 20 lux',
  ] as const;
  const times = await measure(
    {
      'decoding stills': async () => {
        for await (const _ of luminanceFrames(clip, indices, analysis));
      },
      'wind, Beaufort 5': await simulate({ wind: 5 }),
      'rain, 4 mm/h': await simulate({ rain: 4 }),
      'rain, 8 mm/h, on a cover': await simulate({ rain: 8 }, true),
      'low light, 20 lux': await simulate({ light: 20 }),
    },
    { warmUp: 2, rounds: 8, now: processorTime },
  );
  print(`A frame of ${width}x${height}, of ${FRAMES}`, times, FRAMES);
  const decoding = times['decoding stills'].median;
  for (const name of simulated) {
    const ratio = times[name].median / decoding;
    printRatio(`${name} / decoding`, ratio, 'at most 1');
    expect.soft(ratio, name).toBeLessThanOrEqual(1);
  }
});
