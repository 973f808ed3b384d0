import type { About } from '../../about-on-disk.js';
import { withZone } from '../views/plan/typed.js';

/** What is typed in of when and where a recording was made, and in what weather; empty: nobody knows. */
export interface Then {
  /** 2026-05-04T06:00, seconds too where they were typed. */
  began: string;
  /** What the clock was ahead of UTC, +01:00; empty: as this machine's clock was then. */
  zone: string;
  /** Degrees, north and east positive. */
  latitude: string;
  longitude: string;
  /** Beaufort number. */
  wind: string;
  /** mm an hour. */
  rain: string;
  /** Lux at the scene. */
  light: string;
}

export const NOT_SAID: Then = {
  began: '',
  zone: '',
  latitude: '',
  longitude: '',
  wind: '',
  rain: '',
  light: '',
};

/** What clocks are ahead of UTC somewhere. */
export const ZONES: readonly string[] =
  '-12:00 -11:00 -10:00 -09:30 -09:00 -08:00 -07:00 -06:00 -05:00 -04:00 -03:30 -03:00 -02:30 -02:00 -01:00 +00:00 +01:00 +02:00 +03:00 +03:30 +04:00 +04:30 +05:00 +05:30 +05:45 +06:00 +06:30 +07:00 +08:00 +08:45 +09:00 +09:30 +10:00 +10:30 +11:00 +12:00 +12:45 +13:00 +13:45 +14:00'.split(
    ' ',
  );

/** Lux that a look at the sky tells to within some three times: an assumption, as full daylight under cloud is elsewhere. */
export const LIGHTS: readonly [number, string][] = [
  [50_000, 'sunshine'],
  [10_000, 'day, overcast'],
  [1_000, 'a very dark day, or deep shade'],
  [100, 'sunset or sunrise'],
  [20, 'dusk or dawn: colours fade'],
  [2, 'late dusk: shapes alone'],
  [0.1, 'night'],
];

/** What clip.json has of it. */
export type SaidThen = Omit<About, 'site'>;

/** What does not fit, one line; null where all does. */
export function thenProblem({ latitude, longitude }: Then): string | null {
  if (latitude.trim() === '' && longitude.trim() === '') return null;
  const fits = (text: string, most: number) => text.trim() !== '' && Math.abs(Number(text)) <= most;
  return fits(latitude, 90) && fits(longitude, 180)
    ? null
    : 'Where on earth: expected degrees, latitude from -90 to 90 and longitude from -180 to 180, or neither.';
}

/** @param before what was said until now: a moment that was not touched stays as it was, to its fraction of a second */
export function saidThen(then: Then, before: SaidThen = {}): SaidThen {
  const { began, zone, latitude, longitude, wind, rain, light } = then;
  const isPlaced = latitude.trim() !== '' && longitude.trim() !== '';
  const was = thenOf(before);
  const isSame = began === was.began && zone === was.zone;
  const start = isSame ? before.start : began === '' ? undefined : startOf(began, zone);
  const conditions = {
    ...(wind !== '' && { wind: Number(wind) }),
    ...(rain !== '' && { rain: Number(rain) }),
    ...(light !== '' && { light: Number(light) }),
  };
  return {
    ...(start !== undefined && { start }),
    ...(isPlaced && { place: { latitude: Number(latitude), longitude: Number(longitude) } }),
    ...(Object.keys(conditions).length > 0 && { conditions }),
  };
}

function startOf(began: string, zone: string): string {
  if (zone === '') return withZone(new Date(began));
  return `${began.length === 'yyyy-mm-ddThh:mm'.length ? `${began}:00` : began}${zone}`;
}

/** What was said, to be put right. */
export function thenOf({ start = '', place, conditions = {} }: SaidThen): Then {
  const [, began = '', zone = ''] = /^(.{19})(?:\.\d+)?(Z|[+-]\d\d:\d\d)$/i.exec(start) ?? [];
  const typed = (value: number | undefined) => (value === undefined ? '' : String(value));
  return {
    began: began.toUpperCase(),
    zone: zone.toUpperCase() === 'Z' ? '+00:00' : zone,
    latitude: typed(place?.latitude),
    longitude: typed(place?.longitude),
    wind: typed(conditions.wind),
    rain: typed(conditions.rain),
    light: typed(conditions.light),
  };
}

/** What is not said yet, in words. */
export function unsaidOf({ start, place, conditions = {} }: SaidThen): string[] {
  return [
    ...(start === undefined ? ['when'] : []),
    ...(place === undefined ? ['where on earth'] : []),
    ...(['wind', 'rain', 'light'] as const).filter((kind) => conditions[kind] === undefined),
  ];
}
