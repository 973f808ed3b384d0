import { describe, expect, it } from 'vitest';
import { quickRandom } from '../../src/base/random.js';
import { Falling, fallSpeed, Hanging, momentum, opticalDepth, slope } from '../../src/weather/rain/drops.js';
import { nod } from '../../src/weather/rain/knocks.js';
import { coverage, focalPixels, streakLength, streakWidth } from '../../src/weather/rain/streaks.js';

describe('drops of rain', () => {
  // Marshall & Palmer 1948, with N0 = 8000 from memory.
  it.each([
    [1, 4.1, 32.3],
    [5, 2.9242, 146.9],
    [25, 2.0855, 476.6],
  ])('at %d mm/h have a slope of %f per mm, and %f in a cubic metre pass 1 mm', (rain, perMm, count) => {
    expect(slope(rain)).toBeCloseTo(perMm, 4);
    expect(new Hanging(rain, 0).sum).toBeCloseTo(count, 1);
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
    const hanging = new Hanging(5, 0);
    let sum = 0;
    for (let n = 0; n < 20_000; n++) sum += hanging.draw(dice);
    expect(Math.abs(sum / 20_000 - (1 + 1 / 2.9242))).toBeLessThan(0.01);
  });

  // A little more of it goes with D exp(-slope D): above 1 mm that exceeds it by (2/s^3 + 1/s^2) / (1/s^2 + 1/s) on average,
  // where all of the rain does by 1/s = 0.375.
  it('are larger where it rained already and rains a little more', () => {
    const dice = quickRandom('sizes', 'more');
    const more = new Hanging(8, 7.5);
    let sum = 0;
    for (let n = 0; n < 20_000; n++) sum += more.draw(dice);
    expect(Math.abs(sum / 20_000 - 1.477)).toBeLessThan(0.015);
  });

  it('strike the ground as often as their number times their speed', () => {
    // Between the slowest (1 mm) and the fastest of them.
    const { strikes } = new Falling(5, 0);
    expect(strikes).toBeGreaterThan(146.9 * 4.03);
    expect(strikes).toBeLessThan(146.9 * 9.17);
    expect(new Falling(0, 0).strikes).toBe(0);
    expect(new Falling(5, 3).strikes).toBeCloseTo(strikes - new Falling(3, 0).strikes, 6);
  });

  // Fast ones strike more often than they are met with in the air, so those that strike are larger than those that hang there.
  it('are larger where they strike than in the air', () => {
    const dice = quickRandom('strikes', 'drops');
    const falling = new Falling(5, 0);
    let sum = 0;
    for (let n = 0; n < 20_000; n++) sum += falling.draw(dice);
    const inTheAir = 1 + 1 / 2.9242;
    // Weighted by the speeds of Gunn & Kinzer 1949 at 1, 2 and 3 mm: 4.03, 6.49, 8.06 m/s.
    expect(sum / 20_000).toBeGreaterThan(inTheAir + 0.03);
    expect(sum / 20_000).toBeLessThan(inTheAir * 1.25);
  });

  // Twice the cross-sections (van de Hulst 1957) of Marshall & Palmer's drops: pi 8000 / 2.6494^3 mm^2 a cubic metre at 8 mm/h.
  it('take 0.135 % of the light in each metre at 8 mm/h: there is no veil in a garden', () => {
    expect(opticalDepth(8, 0, () => 1)).toBeCloseTo(0.001351, 5);
    expect(opticalDepth(8, 8, () => 1)).toBe(0);
  });

  // By hand: 4.189 mg at 6.49 m/s (Gunn & Kinzer 1949) are 2.719e-5 N s, 3 cm from the stalk of a leaf of 4.32e-7 kg m^2
  // are 1.888 rad/s, at 5 Hz 0.0601 rad.
  it('of 2 mm hardly turn a leaf of 6 cm, and drips of 5 mm turn it far', () => {
    const leaf = { length: 0.06, impedance: 0.2 * 5 };
    expect(nod(momentum(2, 6.49), leaf)).toBeCloseTo(0.0601, 4);
    // After 0.3 m of fall, 2.426 m/s.
    expect(nod(momentum(5, 2.426), leaf)).toBeCloseTo(0.351, 3);
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
