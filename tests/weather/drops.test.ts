import { describe, expect, it } from 'vitest';
import { quickRandom } from '../../src/base/random.js';
import { drawDiameter, dropsAbove, fallSpeed, slope, strikes } from '../../src/weather/drops.js';
import { coverage, focalPixels, streakLength, streakWidth } from '../../src/weather/streaks.js';

describe('drops of rain', () => {
  // Marshall & Palmer 1948, with N0 = 8000 from memory.
  it.each([
    [1, 4.1, 32.3],
    [5, 2.9242, 146.9],
    [25, 2.0855, 476.6],
  ])('at %d mm/h have a slope of %f per mm, and %f in a cubic metre pass 1 mm', (rain, perMm, count) => {
    expect(slope(rain)).toBeCloseTo(perMm, 4);
    expect(dropsAbove(1, rain)).toBeCloseTo(count, 1);
  });

  // Gunn & Kinzer 1949, measured.
  it.each([
    [0.5, 2.06],
    [1, 4.03],
    [2, 6.49],
    [3, 8.06],
    [4, 8.83],
    [5, 9.09],
    [5.8, 9.17],
  ])('of %f mm fall at %f m/s, within 2 %% (Atlas et al. 1973 against Gunn & Kinzer 1949)', (d, speed) => {
    expect(Math.abs(fallSpeed(d) / speed - 1)).toBeLessThan(0.02);
  });

  it('never rise', () => {
    expect(fallSpeed(0.05)).toBe(0);
  });

  // The exponential distribution of Marshall & Palmer: above 1 mm, sizes exceed it by 1/slope on average.
  it('are drawn with the mean size of their distribution', () => {
    const dice = quickRandom('sizes', 'drops');
    let sum = 0;
    for (let n = 0; n < 20_000; n++) sum += drawDiameter(2.9242, dice);
    expect(Math.abs(sum / 20_000 - (1 + 1 / 2.9242))).toBeLessThan(0.01);
  });

  it('strike the ground as often as their number times their speed', () => {
    // Between the slowest (1 mm) and the fastest of them.
    expect(strikes(5)).toBeGreaterThan(146.9 * 4.03);
    expect(strikes(5)).toBeLessThan(146.9 * 9.17);
    expect(strikes(0)).toBe(0);
  });
});

describe('a streak', () => {
  const focal = focalPixels(1280, 62.2);

  it('is seen with the focal length of the lens (1280 px, 62.2 degrees)', () => {
    expect(focal).toBeCloseTo(1060.94, 2);
  });

  // Speeds of Gunn & Kinzer 1949.
  it.each([
    [2, 6.49, 1 / 30, 3, 76.5],
    [2, 6.49, 1 / 60, 3, 38.3],
    [1, 4.03, 1 / 30, 3, 47.5],
    [3, 8.06, 1 / 100, 5, 17.1],
  ])('of %f mm at %f m/s in %f s at %d m is %f px long', (_, speed, exposure, distance, pixels) => {
    expect(Math.abs(streakLength(focal, speed, exposure, distance) - pixels)).toBeLessThan(0.06);
  });

  it('of 2 mm at 3 m is 0.71 px wide, and 77.2 px long at the speed of Atlas et al. 1973', () => {
    expect(streakWidth(focal, 2, 3)).toBeCloseTo(0.71, 2);
    expect(streakLength(focal, fallSpeed(2), 1 / 30, 3)).toBeCloseTo(77.2, 1);
  });

  it('hides the background for at most 1.18 ms of 30 ms (Garg & Nayar 2007, from memory)', () => {
    for (const d of [1, 2, 3, 4, 5]) {
      expect(coverage(d, fallSpeed(d), 0.03) * 30).toBeLessThanOrEqual(1.18);
    }
  });
});
