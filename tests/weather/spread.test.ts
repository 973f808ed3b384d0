import { describe, expect, it } from 'vitest';
import type { ClipSample } from '../../src/measure/weather/sample.js';
import { weighed } from '../../src/measure/weather/spread.js';
import { reachesOf } from '../../src/weather/wind/spread.js';
import { makeSetup } from './made.js';
import { filmed, ground, hedge, height, width } from './yards.js';

describe('how far a place goes against all alike', () => {
  const size = { width: 80, height: 10 };
  const even = (value: number) => new Float32Array(size.width * size.height).fill(value);

  it('is the root of how much more it changes', () => {
    expect(reachesOf(even(402), even(99), size)[420]).toBeCloseTo(2, 2);
  });

  it('is not told by changes fainter than rounding and noise leave', () => {
    expect(reachesOf(even(0.1), even(0), size)[420]).toBeCloseTo(1, 1);
    expect(reachesOf(even(-0.5), even(-0.4), size)[420]).toBe(1);
  });
});

describe('what sways, weighed by how far it was seen to go', () => {
  const lively = [20, 40, 140, 200] as const;
  const dull = [180, 40, 300, 200] as const;

  function sampled(far: number, near: number): ClipSample {
    const parts = [ground('asphalt', 1, 18), hedge('lively', lively, far), hedge('dull', dull, near)];
    const runs = filmed(parts, 'spread', 4);
    return {
      width,
      height,
      rate: 5,
      runs: runs.map((run, r) => run.map((y, k) => ({ y, time: 20 * r + k / 5 }))),
    };
  }

  function meanIn(map: Uint8Array, [left, top, right, bottom]: readonly [number, number, number, number]) {
    const there = map.filter((_, i) => {
      const [x, y] = [i % width, Math.floor(i / width)];
      return x >= left + 8 && x < right - 8 && y >= top + 8 && y < bottom - 8;
    });
    return there.reduce((sum, value) => sum + value, 0) / there.length;
  }

  it('is more where leaves go eight times as far, and nothing where none are', () => {
    const map = new Uint8Array(width * height);
    for (const [left, top, right, bottom] of [lively, dull]) {
      for (let y = top; y < bottom; y++) map.fill(255, y * width + left, y * width + right);
    }
    const setup = makeSetup(width, height, { from: { wind: 1, light: 5000 }, to: { wind: 4 }, foliage: map });
    // The noise of `filmed`: variance 1 and a fortieth of the level, twice, for frames differ by that of both.
    const noise = new Float32Array(width * height).fill(7);
    const out = weighed(map, sampled(0.2, 0.2), sampled(3, 0.4), setup, { calm: noise, windy: noise });
    expect(meanIn(out, lively) / meanIn(out, dull)).toBeGreaterThan(2.5);
    expect(out.filter((_, i) => map[i] === 0).every((value) => value === 0)).toBe(true);
  });
});
