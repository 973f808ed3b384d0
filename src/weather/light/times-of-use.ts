import { OVERCAST, type Place } from '../estimate.js';
import { daylightLux } from './daylight.js';
import { sunAltitude } from './sun.js';

/** When on a day it is light enough, "HH:MM" by the clock of the recording; or all day. */
export type Daytime = { from: string; until: string } | 'all day';

export interface TimesOfUse {
  /** The day of the recording, YYYY-MM-DD. */
  date: string;
  /** Offset of its clock from UTC, such as +01:00. */
  zone: string;
  /** In the open, under a clear sky and under thick cloud; null: never. */
  clear: Daytime | null;
  overcast: Daytime | null;
}

const MINUTE = 60_000;
const DAY = 24 * 60;

/**
 * When in the day of a recording the light in the open is that much or more, under a clear sky and under thick cloud.
 * @param start RFC 3339 with a zone
 */
export function timesOfUse(lux: number, start: string, place: Place): TimesOfUse {
  const date = start.slice(0, 10);
  const zone = /[+-]\d\d:\d\d$/.exec(start)?.[0] ?? '+00:00';
  const midnight = Date.parse(`${date}T00:00:00${zone}`);
  const light = Array.from({ length: DAY }, (_, minute) =>
    daylightLux(sunAltitude(new Date(midnight + minute * MINUTE), place.latitude, place.longitude)),
  );
  return {
    date,
    zone,
    clear: daytime(light, lux),
    overcast: daytime(light, lux / OVERCAST),
  };
}

/** The stretch about the brightest minute in which it is bright enough; the clock may stand anywhere in the day. */
function daytime(light: readonly number[], lux: number): Daytime | null {
  const noon = light.reduce((best, value, minute) => (value > light[best]! ? minute : best), 0);
  if (light[noon]! < lux) return null;
  if (light.every((value) => value >= lux)) return 'all day';
  const at = (minute: number) => light[(minute + DAY) % DAY]!;
  let from = noon;
  while (at(from - 1) >= lux) from--;
  let until = noon;
  while (at(until) >= lux) until++;
  return { from: clock(from), until: clock(until) };
}

function clock(minute: number): string {
  const ofDay = (minute + DAY) % DAY;
  const two = (n: number) => String(n).padStart(2, '0');
  return `${two(Math.floor(ofDay / 60))}:${two(ofDay % 60)}`;
}
