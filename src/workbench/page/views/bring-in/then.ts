import { withZone } from '../plan/typed.js';

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
}

export const NOT_SAID: Then = { began: '', zone: '', latitude: '', longitude: '', wind: '', rain: '' };

/** What clocks are ahead of UTC somewhere. */
export const ZONES: readonly string[] =
  '-12:00 -11:00 -10:00 -09:30 -09:00 -08:00 -07:00 -06:00 -05:00 -04:00 -03:30 -03:00 -02:30 -02:00 -01:00 +00:00 +01:00 +02:00 +03:00 +03:30 +04:00 +04:30 +05:00 +05:30 +05:45 +06:00 +06:30 +07:00 +08:00 +08:45 +09:00 +09:30 +10:00 +10:30 +11:00 +12:00 +12:45 +13:00 +13:45 +14:00'.split(
    ' ',
  );

/** The same as clip.json has it. */
export interface SaidThen {
  start?: string;
  place?: { latitude: number; longitude: number };
  conditions?: { wind?: number; rain?: number };
}

/** What does not fit, one line; null where all does. */
export function thenProblem({ latitude, longitude }: Then): string | null {
  if (latitude.trim() === '' && longitude.trim() === '') return null;
  const fits = (text: string, most: number) => text.trim() !== '' && Math.abs(Number(text)) <= most;
  return fits(latitude, 90) && fits(longitude, 180)
    ? null
    : 'Where on earth: expected degrees, latitude from -90 to 90 and longitude from -180 to 180, or neither.';
}

export function saidThen({ began, zone, latitude, longitude, wind, rain }: Then): SaidThen {
  const isPlaced = latitude.trim() !== '' && longitude.trim() !== '';
  return {
    ...(began !== '' && { start: startOf(began, zone) }),
    ...(isPlaced && { place: { latitude: Number(latitude), longitude: Number(longitude) } }),
    ...((wind !== '' || rain !== '') && {
      conditions: { ...(wind !== '' && { wind: Number(wind) }), ...(rain !== '' && { rain: Number(rain) }) },
    }),
  };
}

function startOf(began: string, zone: string): string {
  if (zone === '') return withZone(new Date(began));
  return `${began.length === 'yyyy-mm-ddThh:mm'.length ? `${began}:00` : began}${zone}`;
}
