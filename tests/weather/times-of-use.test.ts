import { describe, expect, it } from 'vitest';
import { timesOfUse } from '../../src/weather/light/times-of-use.js';

const minutes = (clock: string) => 60 * Number(clock.slice(0, 2)) + Number(clock.slice(3));

describe('until when it is light enough', () => {
  // At the end of civil twilight, with the sun at -6 degrees, a clear sky gives 3.41 lux (computed from Urban & Seidelmann
  // 2013). At the equinox the sun sinks on the equator by a degree in four minutes: from 0 to -6 degrees in 24.
  it('is the end of civil twilight for 3.41 lux, 24 minutes after the sun on the equator', () => {
    const { clear } = timesOfUse(3.41, '2026-03-20T12:00:00+00:00', { latitude: 0, longitude: 0 });
    const { clear: horizon } = timesOfUse(758.6, '2026-03-20T12:00:00+00:00', { latitude: 0, longitude: 0 });
    if (clear === null || clear === 'all day' || horizon === null || horizon === 'all day')
      throw new Error('no day');
    expect(Math.abs(minutes(clear.until) - minutes(horizon.until) - 24)).toBeLessThanOrEqual(1);
    expect(Math.abs(minutes(horizon.from) - minutes(clear.from) - 24)).toBeLessThanOrEqual(1);
    // A day of twelve hours between the two.
    expect(Math.abs(minutes(horizon.until) - minutes(horizon.from) - 720)).toBeLessThanOrEqual(1);
  });

  it('is earlier under cloud, and goes by the clock of the recording', () => {
    const place = { latitude: 51.5, longitude: -3.2 };
    const summer = timesOfUse(5, '2026-05-04T06:10:00+01:00', place);
    const universal = timesOfUse(5, '2026-05-04T05:10:00Z', place);
    expect(summer).toMatchObject({ date: '2026-05-04', zone: '+01:00' });
    expect(universal.zone).toBe('+00:00');
    const until = (of: typeof summer, sky: 'clear' | 'overcast') => {
      const day = of[sky];
      return day === null || day === 'all day' ? Number.NaN : minutes(day.until);
    };
    expect(until(summer, 'clear') - until(universal, 'clear')).toBe(60);
    expect(until(summer, 'overcast')).toBeLessThan(until(summer, 'clear'));
  });

  it('follows the light over midnight where the clock is far from the place', () => {
    const { clear } = timesOfUse(5, '2026-03-20T12:00:00Z', { latitude: 0, longitude: 170 });
    if (clear === null || clear === 'all day') throw new Error('no day');
    const span = (minutes(clear.until) - minutes(clear.from) + 1440) % 1440;
    expect(Math.abs(span - 765)).toBeLessThan(6);
  });

  it('is all day in the polar summer, and never in its winter', () => {
    const place = { latitude: 78, longitude: 15 };
    expect(timesOfUse(100, '2026-06-21T12:00:00+02:00', place).clear).toBe('all day');
    expect(timesOfUse(100, '2026-12-21T12:00:00+01:00', place).clear).toBeNull();
  });
});
