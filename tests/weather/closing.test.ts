import { beforeAll, describe, expect, it } from 'vitest';
import { closedWith } from '../../src/measure/weather/closing.js';
import type { ClipSample } from '../../src/measure/weather/sample.js';
import { createWeather } from '../../src/weather/weather.js';
import { makeSetup } from './made.js';
import { filmed, ground, hedge, height, width } from './yards.js';

const leaves = [20, 40, 140, 200] as const;
const map = new Uint8Array(width * height);
for (let y = 40; y < 200; y++) map.fill(255, y * width + 20, y * width + 140);
const setup = makeSetup(width, height, { from: { wind: 1, light: 5000 }, to: { wind: 4 }, foliage: map });
const RADIUS = 1;

function sampled(): ClipSample {
  const runs = filmed([ground('asphalt', 1, 18), hedge('leaves', leaves, 0.2)], 'closing', 4);
  return {
    width,
    height,
    rate: 5,
    runs: runs.map((run, r) => run.map((y, k) => ({ y, time: 20 * r + k / 5 }))),
  };
}

const moved = (times: number) => ({ branches: times, leaves: times, rhythm: 1, growth: 1 });

/** The sample in wind of other gusts, where all goes so many times as far as assumed. */
function windy(calm: ClipSample, times: number): ClipSample {
  const weather = createWeather({ ...setup, motion: { ...moved(times), how: '' } });
  return {
    ...calm,
    runs: calm.runs.map((run) =>
      run.map(({ y, time }) => ({ y: weather.apply(y, 300 + time).slice(), time })),
    ),
  };
}

describe('a loop closed against a windy clip', () => {
  let calm: ClipSample;
  beforeAll(() => {
    calm = sampled();
  });

  it('makes more of a motion that was fitted too small, and less of one too large', () => {
    const seen = windy(calm, 1);
    const small = closedWith(calm, seen, setup, moved(0.5), map, RADIUS);
    const large = closedWith(calm, seen, setup, moved(1.8), map, RADIUS);
    expect(small.times).toBeGreaterThan(1.3);
    expect(large.times).toBeLessThan(0.8);
    expect((0.5 * small.times) / (1.8 * large.times)).toBeCloseTo(1, 0);
  });

  it('is not led by what changes where nothing can sway', () => {
    const seen = windy(calm, 1);
    const flickering: ClipSample = {
      ...seen,
      runs: seen.runs.map((run) =>
        run.map(({ y, time }, k) => {
          const lit = y.slice();
          for (let row = 0; row < 30; row++) lit.fill(k % 2 === 0 ? 60 : 160, row * width, (row + 1) * width);
          return { y: lit, time };
        }),
      ),
    };
    const plain = closedWith(calm, seen, setup, moved(1), map, RADIUS);
    const led = closedWith(calm, flickering, setup, moved(1), map, RADIUS);
    expect(led.times).toBeCloseTo(plain.times, 6);
    expect(led.weights).toEqual(plain.weights);
  });
});
