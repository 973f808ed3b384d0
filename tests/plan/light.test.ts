import { describe, expect, it } from 'vitest';
import { forecastOf } from '../../src/plan/forecast.js';
import { hoursOf, kindsOf, luxAt } from '../../src/plan/hours.js';
import { conditionsOfKind, kindOf, kindText, lightOf, weatherFor } from '../../src/plan/kind.js';

/** On the equator at noon of an equinox the sun stands overhead; there it sets at about six. */
const place = { latitude: 0, longitude: 0 };

describe('light of an hour', () => {
  it('is that of the published table for the height of the sun, less a tenth under thick cloud', () => {
    const noon = Date.UTC(2027, 2, 20, 12, 7);
    // Urban & Seidelmann 2013: 1.288e5 lux with the sun overhead.
    expect(luxAt(noon, place, 0) / 1.288e5).toBeCloseTo(1, 2);
    expect(luxAt(noon, place, 1) / 1.288e4).toBeCloseTo(1, 2);
    expect(luxAt(noon, place, 0.5) ** 2).toBeCloseTo(luxAt(noon, place, 0) * luxAt(noon, place, 1), 0);
  });

  it('falls through the published limits of twilight as the sun goes down', () => {
    // The sun sinks by 15 degrees an hour there: 24 and 48 minutes from sunset's 0 degrees to -6 and -12; 3.41 and 0.00814 lux.
    const zero = Date.UTC(2027, 2, 20, 18, 7, 20);
    expect(Math.log10(luxAt(zero, place, 0) / 758.6)).toBeCloseTo(0, 0);
    expect(Math.abs(Math.log10(luxAt(zero + 24 * 60_000, place, 0) / 3.41))).toBeLessThan(0.1);
    expect(Math.abs(Math.log10(luxAt(zero + 48 * 60_000, place, 0) / 0.00814))).toBeLessThan(0.15);
  });

  it('parts bright, dim, too dark and not known', () => {
    const limit = { limit: 3, known: 3 };
    expect([50, 49.9, 3, 2.9].map((lux) => lightOf(lux, limit))).toEqual([
      'bright',
      'dim',
      'dim',
      'too dark',
    ]);
    expect([5, 4.9].map((lux) => lightOf(lux, { limit: null, known: 5 }))).toEqual(['dim', 'unknown']);
    expect(lightOf(null, limit)).toBe('bright');
    // A camera may be blind in more light than counts as low.
    expect([60, 320].map((lux) => lightOf(lux, { limit: 320, known: 320 }))).toEqual(['too dark', 'bright']);
  });
});

describe('kinds of hours', () => {
  it('begin where the contract says: Beaufort 4, 0.1 mm/h', () => {
    expect(conditionsOfKind(kindOf(3.9, 0.09, 'bright'))).toEqual(['calm']);
    expect(conditionsOfKind(kindOf(4, 0.1, 'dim'))).toEqual(['wind', 'rain', 'low light']);
  });

  it.each([
    // Where WMO parts light, moderate and heavy rain: 2.5 and 10 mm/h.
    [2.4, 'light rain'],
    [2.5, 'moderate rain'],
    [10, 'heavy rain'],
  ])('call %f mm/h %s', (rain, name) => {
    expect(kindText(kindOf(0, rain, 'bright'))).toBe(name);
  });

  it('are put onto a clip only where it has less of it', () => {
    const none = { limit: null, known: 5 };
    const gale = kindOf(7, 3, 'dim');
    expect(weatherFor(gale, { wind: 1 }, none)).toEqual({ wind: 7, rain: 8, light: 20 });
    expect(weatherFor(gale, { wind: 6, rain: 4, light: 30 }, none)).toEqual({});
    expect(weatherFor(kindOf(0, 0, 'bright'), { wind: 5 }, none)).toBeNull();
    // Half-way in stops between the limit of use and where low light begins, where the usual light is too dark.
    expect(weatherFor(kindOf(0, 0, 'dim'), {}, { limit: 32, known: 32 })).toEqual({ light: 40 });
  });

  it('are those of each hour of a row of three', () => {
    const row = { line: 2, cells: ['2027-03-20T16:00:00Z', '1', '0'] };
    const next = { line: 3, cells: ['2027-03-20T19:00:00Z', '1', '0'] };
    const forecast = forecastOf({ header: ['time', 'wind', 'cloud'], rows: [row, next] }, 'x');
    const hours = hoursOf(forecast, place);
    expect(hours).toHaveLength(6);
    // Sunset is at about 18:10: the hour from 18:00 is in twilight in its middle, the next is night.
    expect(kindsOf(hours, { limit: 0.1, known: 0.1 }).map(({ light }) => light)).toEqual([
      'bright',
      'bright',
      'dim',
      'too dark',
      'too dark',
      'too dark',
    ]);
    expect(hoursOf(forecast, null).every(({ lux }) => lux === null)).toBe(true);
  });
});
