import { OVERCAST, type Place } from '../weather/estimate.js';
import { daylightLux } from '../weather/light/daylight.js';
import { sunAltitude } from '../weather/light/sun.js';
import type { Forecast } from './forecast.js';
import { type Instant, later } from './instant.js';
import { type Darkness, type Kind, kindOf, lightOf } from './kind.js';

/** One hour of a forecast. */
export interface Hour {
  /** When it begins, by the forecast's own clock. */
  at: Pick<Instant, 'ms' | 'offset'>;
  /** Beaufort number, not rounded; mm/h. */
  wind: number;
  rain: number;
  /** In the open in the middle of the hour; null where the place is not known. */
  lux: number | null;
}

export const HOUR_MS = 3_600_000;
/** Where the forecast says nothing of cloud: half-way in stops. */
const HALF = 0.5;

/** Hour by hour what is foretold; a row of three hours is three alike, but for their light. */
export function hoursOf({ rows, step }: Forecast, place: Place | null): Hour[] {
  return rows.flatMap(({ at, wind, rain, cloud }) =>
    Array.from({ length: step }, (_, i) => {
      const begin = later(at, i * HOUR_MS);
      return {
        at: begin,
        wind,
        rain: rain ?? 0,
        lux: place && luxAt(begin.ms + HOUR_MS / 2, place, cloud ?? HALF),
      };
    }),
  );
}

/**
 * Light in the open by sun, place and cloud, lux: from a clear sky to a tenth of that under thick cloud, in stops (both of
 * `estimateLight`). Moon and lamps are not in it.
 * @param cloud share of the sky
 */
export function luxAt(ms: number, { latitude, longitude }: Place, cloud: number): number {
  return daylightLux(sunAltitude(new Date(ms), latitude, longitude)) * OVERCAST ** cloud;
}

export function kindsOf(hours: readonly Hour[], darkness: Darkness): Kind[] {
  return hours.map(({ wind, rain, lux }) => kindOf(wind, rain, lightOf(lux, darkness)));
}
