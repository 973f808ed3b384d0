import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beaufortOf, beaufortSpeed } from '../../src/weather/wind/beaufort.js';
import { logProfile, siteWind, turbulenceIntensity } from '../../src/weather/wind/profile.js';
import { kaimalShare } from '../../src/weather/wind/spectrum.js';
import { kaimal } from './kaimal.js';

describe('the Beaufort scale', () => {
  // Upper limits in m/s of Beaufort 0 to 11: WMO No. 8, Part I, wind chapter (9 to 11 from memory).
  it.each([0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6])(
    'has its upper limit number %# half-way to the next number: %f m/s',
    (limit) => {
      const number = [0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6].indexOf(limit);
      expect(Math.floor(beaufortSpeed(number + 0.5) * 10) / 10).toBe(limit);
    },
  );

  // 0.836 B^1.5, the formula from memory.
  it.each([
    [0, 0],
    [1, 0.836],
    [2, 2.365],
    [3, 4.344],
    [4, 6.688],
    [5, 9.347],
    [6, 12.287],
    [7, 15.483],
    [8, 18.917],
  ])('puts Beaufort %f at %f m/s', (number, speed) => {
    expect(beaufortSpeed(number)).toBeCloseTo(speed, 3);
  });

  it('is read backwards as forwards', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 12, noNaN: true }), (b) => {
        expect(beaufortOf(beaufortSpeed(b))).toBeCloseTo(b, 9);
      }),
      { seed: 4 },
    );
  });
});

describe('the wind near the ground', () => {
  // ln(2/z0) / ln(10/z0), computed from the formula.
  it.each([
    [0.03, 0.7229],
    [0.1, 0.6505],
    [0.25, 0.5637],
  ])('of roughness %f m falls at 2 m to %f of that at 10 m', (roughness, share) => {
    expect(logProfile(2, roughness)).toBeCloseTo(share, 4);
  });

  it('has a turbulence intensity of 0.217 at 10 m over 0.10 m (form of EN 1991-1-4, from memory)', () => {
    expect(turbulenceIntensity(10, 0.1)).toBeCloseTo(0.217, 3);
  });

  it('reaches a site by the profile and the shelter', () => {
    expect(siteWind(10, 2, 0.8).mean).toBeCloseTo(10 * 0.6505 * 0.8, 3);
  });

  it('is that of 1 m for a camera in the grass, where the profile would fail', () => {
    expect(siteWind(10, 0.1, 1)).toEqual(siteWind(10, 1, 1));
  });
});

describe("Kaimal's spectrum", () => {
  // Kaimal et al. 1972: 105 f / (1 + 33 f)^(5/3); values computed from it.
  it.each([
    [0.01, 0.6528],
    [0.1, 0.9234],
    [1, 0.2943],
    [1 / 22, 1.0364],
  ])('is at reduced frequency %f %f', (f, value) => {
    expect(kaimal(f)).toBeCloseTo(value, 4);
  });

  it('is highest at f = 1/22', () => {
    expect(kaimal(1 / 22)).toBeGreaterThan(kaimal(1 / 22.5));
    expect(kaimal(1 / 22)).toBeGreaterThan(kaimal(1 / 21.5));
  });

  it('has an integral of 105/22 = 4.7727 over ln f, in the parts that the shares say', () => {
    const width = 0.01;
    let all = 0;
    let upTo = 0;
    for (let x = Math.log(1e-7); x < Math.log(1e7); x += width) {
      const part = kaimal(Math.exp(x + width / 2)) * width;
      all += part;
      if (x + width / 2 < Math.log(0.1)) upTo += part;
    }
    expect(all).toBeCloseTo(4.7727, 3);
    expect(kaimalShare(0, 0.1)).toBeCloseTo(upTo / all, 2);
    expect(kaimalShare(0, 1e9)).toBeCloseTo(1, 5);
  });
});
