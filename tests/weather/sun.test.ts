import { describe, expect, it } from 'vitest';
import { daylightLux } from '../../src/weather/light/daylight.js';
import { sunAltitude, sunDeclination } from '../../src/weather/light/sun.js';

describe('the sun', () => {
  it('stands at zenith 50.11162 degrees (Reda & Andreas 2004, worked example)', () => {
    const altitude = sunAltitude(new Date('2003-10-17T12:30:30-07:00'), 39.742476, -105.1786);
    expect(Math.abs(90 - altitude - 50.11162)).toBeLessThan(0.05);
  });

  it('has a declination of -7 degrees 47 minutes 6 seconds (Meeus, worked example)', () => {
    const declination = sunDeclination(new Date('1992-10-13T00:00:00Z'));
    expect(Math.abs(declination + (7 + 47 / 60 + 6 / 3600))).toBeLessThan(0.01);
  });

  it('stands as high east of noon at one longitude as at the same solar time of another', () => {
    const here = sunAltitude(new Date('2026-05-04T06:00:00Z'), 51, 0);
    const west = sunAltitude(new Date('2026-05-04T08:00:00Z'), 51, -30);
    expect(west).toBeCloseTo(here, 1);
  });
});

describe('daylight', () => {
  // Computed from the table of Urban & Seidelmann 2013 (after Janiczek & DeYoung 1987).
  it.each([
    [90, 1.288e5],
    [30, 4.63e4],
    [0, 758.6],
    [-6, 3.41],
    [-12, 0.00814],
  ])('with the sun at %d degrees is %d lux', (altitude, lux) => {
    expect(Math.abs(daylightLux(altitude) / lux - 1)).toBeLessThan(0.005);
  });

  // The limits of civil, nautical and astronomical twilight, where one fit of the table takes over from another near by.
  it('never grows as the sun sinks through the twilights', () => {
    const altitudes = [-0.833, -6, -12, -18];
    const lux = altitudes.map(daylightLux);
    expect(lux).toEqual([...lux].sort((a, b) => b - a));
    expect(daylightLux(-30)).toBe(lux[3]);
  });
});
