import { expect, it } from 'vitest';
import { keptFit } from '../../src/measure/weather/kept-fit.js';
import type { ClipSample } from '../../src/measure/weather/sample.js';
import {
  againstItself,
  againstWindy,
  fitMotion,
  type OnFrames,
  unrestOf,
} from '../../src/measure/weather/sway.js';
import { Cache } from '../../src/store/cache.js';
import { randomBytes } from '../engine/frames.js';
import { makeSetup } from '../weather/made.js';

const [WIDTH, HEIGHT] = [32, 24];
const RATE = 5;
const foliage = new Uint8Array(WIDTH * HEIGHT).fill(255);
const setup = makeSetup(WIDTH, HEIGHT, { foliage, from: { wind: 2 }, to: { wind: 4 } });
const noise = new Float32Array(foliage.length).fill(1);

/** Two runs of frames in which nothing is like what was before. */
function sampleOf(seed: string): ClipSample {
  const runs = [0, 1].map((run) =>
    [0, 1, 2].map((k) => ({
      y: randomBytes(foliage.length, `${seed}/${run}/${k}`),
      time: 20 * run + k / RATE,
    })),
  );
  return { width: WIDTH, height: HEIGHT, rate: RATE, runs };
}

const itself = (seed: string, set = setup) => againstItself({ sample: sampleOf(seed), noise }, set);
const windy = (seed: string) =>
  againstWindy(sampleOf('calm'), setup, unrestOf(sampleOf(seed), foliage).measure());

/** The same, but nothing can be tried on it any more. */
function notTried(comparison: OnFrames): OnFrames {
  const simulated = () => {
    throw new Error('tried again');
  };
  return { ...comparison, simulated };
}

const cache = Cache.inMemory();
const [calm, blown] = [itself('calm'), windy('windy')];
const fits = Promise.all([keptFit([calm], RATE, cache), keptFit([blown], RATE, cache)]);

it('gives what the fit gives, and from the second time on without a trial', async () => {
  const [fit] = await fits;
  expect(fit).toEqual(fitMotion([calm], RATE));
  expect(await keptFit([notTried(calm)], RATE, cache)).toEqual(fit);
});

it.each([
  ['other frames', [itself('other')]],
  ['frames of a windy clip that are other ones', [windy('other')]],
  ['another seed', [itself('calm', { ...setup, seed: 'another' })]],
  ['another wind', [itself('calm', { ...setup, from: { wind: 3 } })]],
  [
    'foliage elsewhere',
    [itself('calm', { ...setup, foliage: foliage.map((_, i) => (i < 32 * 10 ? 255 : 0)) })],
  ],
  ['both together', [calm, blown]],
])('is asked anew for %s', async (_, comparisons) => {
  await fits;
  await expect(keptFit(comparisons.map(notTried), RATE, cache)).rejects.toThrow('tried again');
});
