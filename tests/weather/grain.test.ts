import { describe, expect, it } from 'vitest';
import { defaultOptics } from '../../src/weather/defaults.js';
import { createLowLight } from '../../src/weather/light/light.js';
import { grain } from '../../src/weather/sensor/grain.js';
import { makeSetup } from './made.js';

const [width, height] = [320, 240];
const GREY = 150;
const FRAMES = 5;

/** Frames of an even grey in 20 lux, as recorded in 20,000, less their mean and over their deviation; the first is left out. */
function frames(seed = 'grain', stored = 1): Float64Array[] {
  const [wide, tall] = [width * stored, height * stored];
  const noise = { own: null, measured: false, readNoise: false, limits: false, how: [] };
  const { effect } = createLowLight(
    makeSetup(wide, tall, {
      seed,
      optics: defaultOptics,
      from: { light: 20_000 },
      to: { light: 20 },
      ...(stored > 1 && { noise: { ...noise, at: { width, height } } }),
    }),
  );
  const still = new Uint8Array(wide * tall).fill(GREY);
  return Array.from({ length: FRAMES + 1 }, () => {
    const out = new Uint8Array(still.length);
    effect!.take(still, out);
    const mean = out.reduce((sum, v) => sum + v, 0) / out.length;
    const deviation = Math.sqrt(out.reduce((sum, v) => sum + (v - mean) ** 2, 0) / out.length);
    return Float64Array.from(out, (v) => (v - mean) / deviation);
  }).slice(1);
}

/** Correlation of one picture with another moved by some pixels, over what both have. */
function correlation(a: Float64Array, b: Float64Array, across: number, down: number, wide = width): number {
  const tall = a.length / wide;
  let [sum, n] = [0, 0];
  for (let y = 0; y < tall - down; y++) {
    for (let x = Math.max(0, -across); x < wide - Math.max(0, across); x++) {
      sum += a[y * wide + x]! * b[(y + down) * wide + x + across]!;
      n++;
    }
  }
  return sum / n;
}

/** What unrelated noise stays below in all of some hundreds of trials: five standard errors, 1 / sqrt(n). */
const UNRELATED = 5 / Math.sqrt((width - 64) * (height - 4));

describe('simulated noise', () => {
  const [first, ...others] = frames() as [Float64Array, ...Float64Array[]];

  it('repeats itself nowhere near within a frame', () => {
    for (let down = 0; down <= 4; down++) {
      for (let across = -64; across <= 64; across++) {
        if (down === 0 && across <= 0) continue;
        const r = correlation(first, first, across, down);
        expect.soft(Math.abs(r), `${across} across, ${down} down`).toBeLessThan(UNRELATED);
      }
    }
  });

  it('is another in each of the frames that follow', () => {
    others.forEach((other, k) => {
      for (const down of [0, 1, 2]) {
        for (let across = -40; across <= 40; across++) {
          const r = correlation(first, other, across, down);
          expect.soft(Math.abs(r), `${k + 1} later, ${across} across, ${down} down`).toBeLessThan(UNRELATED);
        }
      }
    });
  });

  it('is another for another seed', () => {
    const [other] = frames('other');
    expect(Math.abs(correlation(first, other!, 0, 0))).toBeLessThan(UNRELATED);
  });

  it('gives no row of five frames the same run of deviates as another row at the same place', () => {
    // 32 pixels in a row, which unrelated noise of some ten grey levels would never have in common.
    const runs = new Set<string>();
    let all = 0;
    for (const frame of [first, ...others]) {
      for (let y = 0; y < height; y++, all++) runs.add(frame.subarray(y * width, y * width + width).join());
    }
    expect(runs.size).toBe(all);
  });

  // Two-sided tails of the normal distribution, published in any table of it. Allowed: half a
  // code, of a 29th of a deviation, at the edge, and three standard errors of 65,536.
  it.each([
    [1, 0.3173, 0.045],
    [2, 0.0455, 0.1],
    [3, 0.0027, 0.28],
    [4, 0.0000633, 1.6],
  ])('is made of deviates that go beyond %d as often as normal ones', (reach, share, within) => {
    const { codes, values } = grain();
    const found = codes.filter((code) => Math.abs(values[code]!) > reach).length / codes.length;
    expect(Math.abs(found / share - 1)).toBeLessThan(within);
    expect(found).toBeGreaterThan(0);
  });

  it('is shared by squares of pixels, and not beyond them, where frames are stored larger than compared', () => {
    const [stored] = frames('grain', 4) as [Float64Array];
    const wide = 4 * width;
    // Squares of 2 by 2: of pixels beside one another every other pair lies in one.
    expect(correlation(stored, stored, 1, 0, wide)).toBeCloseTo(0.5, 1);
    expect(correlation(stored, stored, 0, 1, wide)).toBeCloseTo(0.5, 1);
    for (const [across, down] of [
      [2, 0],
      [0, 2],
      [3, 1],
    ] as const) {
      expect.soft(Math.abs(correlation(stored, stored, across, down, wide))).toBeLessThan(UNRELATED);
    }
  });
});
