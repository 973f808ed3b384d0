/** A forecast as it is typed in: rows of three hours, one after the other. */
export interface Typed {
  /** When the first begins, by the clock of this machine: 2026-05-04T06:00. */
  from: string;
  rows: TypedRow[];
}

export interface TypedRow {
  /** Beaufort number. */
  beaufort: number;
  /** mm an hour. */
  rain: number;
  /** % of the sky. */
  cloud: number;
}

export const STEP_HOURS = 3;
const HOUR_MS = 3_600_000;
/** Two weeks: nobody types in more. */
export const MOST_ROWS = 112;

/** What wind is called, and what it does (Beaufort's scale as the World Meteorological Organization words it, shortened). */
export const WINDS: readonly string[] = [
  'calm: smoke rises straight',
  'light air: smoke drifts',
  'light breeze: leaves rustle',
  'gentle breeze: leaves and twigs move all the time',
  'moderate: small branches move',
  'fresh: small trees in leaf sway',
  'strong: large branches move',
  'near gale: whole trees move',
  'gale: twigs break off',
  'strong gale',
  'storm',
];
export const RAINS: readonly [number, string][] = [
  [0, 'dry'],
  [0.3, 'drizzle'],
  [1.5, 'light rain'],
  [4, 'rain'],
  [10, 'heavy rain'],
];
export const SKIES: readonly [number, string][] = [
  [10, 'clear'],
  [50, 'half clouded'],
  [95, 'overcast'],
];

/** The next full three hours, and a day of calm from then on. */
export function typedFrom(now: Date): Typed {
  const next = new Date(now);
  next.setMinutes(0, 0, 0);
  next.setHours(Math.ceil((now.getHours() + 1) / STEP_HOURS) * STEP_HOURS);
  const two = (n: number) => String(n).padStart(2, '0');
  const from = `${next.getFullYear()}-${two(next.getMonth() + 1)}-${two(next.getDate())}T${two(next.getHours())}:00`;
  return { from, rows: Array.from({ length: 8 }, () => ({ beaufort: 2, rain: 0, cloud: 50 })) };
}

/** When each row begins; none where the first moment is no time. */
export function momentsOf({ from, rows }: Typed): Date[] {
  const first = new Date(from).getTime();
  return Number.isNaN(first) ? [] : rows.map((_, i) => new Date(first + i * STEP_HOURS * HOUR_MS));
}

/** The forecast as a file has it, by the clock of this machine. */
export function csvOf(typed: Typed): string {
  const moments = momentsOf(typed);
  const rows = typed.rows.flatMap(({ beaufort, rain, cloud }, i) => {
    const at = moments[i];
    return at ? [`${withZone(at)},${beaufort},${rain},${cloud}`] : [];
  });
  return ['time,beaufort,rain (mm/h),cloud', ...rows, ''].join('\n');
}

/** 2026-05-04T06:00:00+01:00 */
export function withZone(at: Date): string {
  const ahead = -at.getTimezoneOffset();
  const local = new Date(at.getTime() + ahead * 60_000).toISOString().slice(0, 19);
  const two = (n: number) => String(n).padStart(2, '0');
  const zone = Math.abs(ahead);
  return `${local}${ahead < 0 ? '-' : '+'}${two(Math.floor(zone / 60))}:${two(zone % 60)}`;
}
