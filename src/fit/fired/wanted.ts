import type { Tolerance } from '../score/agreement.js';
import { type Clock, onClip, SHORTEST_FOR_DRIFT } from './clock.js';
import type { Told } from './told.js';

/** Fired times on the clip's clock, and within which part of it they are held against predicted ones. */
export interface Wanted {
  /** Seconds, rising. */
  fired: Float64Array;
  tolerance: Tolerance;
  /** Seconds; predicted times outside do not count. */
  from: number;
  to: number;
}

/** Seconds within which a predicted time is right, where nobody says: what rounding and three frames leave open. */
export function toleranceFor(told: Told, rate: number, given: number | undefined): Tolerance {
  const free = told.quantum / 2 + 0.6 / rate;
  const most = given ?? Math.max(0.5, told.quantum / 2 + 1.5 / rate);
  // Over a long time a drift that is told roughly leaves more open.
  const lasts = (told.times.at(-1) ?? 0) - (told.times[0] ?? 0);
  const isRounding = isRounded(told, rate) && lasts < SHORTEST_FOR_DRIFT;
  return { free, most, span: isRounding ? told.quantum : null };
}

/** Whether times are rounded so that the frame which fired is not known. */
export function isRounded({ quantum }: Pick<Told, 'quantum'>, rate: number): boolean {
  return quantum * rate > 1.5;
}

/** The told times on the clip, as far as they lie on it. */
export function wantedBy(
  { times }: Told,
  clock: Clock,
  tolerance: Tolerance,
  [from, to]: readonly [number, number],
): Wanted {
  const fired = onClip(times, clock).filter(
    (time) => time >= from - tolerance.most && time < to + tolerance.most,
  );
  return { fired, tolerance, from, to };
}

/** What is wanted of the first part alone. */
export function upTo(wanted: Wanted, to: number): Wanted {
  return { ...wanted, fired: wanted.fired.filter((time) => time < to), to };
}
