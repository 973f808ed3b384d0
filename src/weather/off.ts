import { significant } from '../base/figures.js';
import type { Conditions, SiteMotion } from './setup.js';

/** How it is known how far things sway in simulated wind: measured on a calm clip and a windy one, on one clip, or not. */
export type SwayKnown = 'two clips' | 'one clip' | 'assumed';

/** Between which multiples of the simulated false triggers those of such weather lay, in 8 of 10 settings. */
export interface Off {
  low: number;
  high: number;
}

/**
 * False triggers in 15 gardens or more drawn by another renderer over those in the same weather simulated on their calm day, at settings
 * that fired four times or more in 90 s as simulated and were not saturated. Limits set without a garden held 8 of 10 of its settings
 * (tests/evaluate/RESULTS.md, "How far off the rest may be"). Other drawings, not real gardens; chance of 90 s is in them. Beaufort 6
 * is no further off than 3 to 5 are, so that one range stands for all.
 */
const WIND: Record<SwayKnown, Off> = {
  'two clips': { low: 0.08, high: 1.8 },
  'one clip': { low: 0.06, high: 3.1 },
  assumed: { low: 0.05, high: 2.6 },
};
/** Beaufort numbers. */
const STRONGEST = 6;
/** mm/h that the drawings were in. */
export const RAIN_DRAWN = 4;
/** Beside less rain than was drawn the same is told, and in which rain it was measured. */
const RAIN: Off = { low: 0.43, high: 4 };
/** Simulated false triggers from which on it was measured: those that fire less were not looked at, and may be further off. */
export const FEWEST_TOLD = 4;

/**
 * How far off false triggers in simulated weather may be, of settings that fire `FEWEST_TOLD` times or more as simulated.
 * @param to what was put onto a clip
 * @returns null where such weather, or so much of it, or several kinds at once, was held against no drawing, or, as low light was,
 *   against drawings in which too little fires to tell
 */
export function offOf({ wind, rain, light }: Conditions, sway: SwayKnown): Off | null {
  const kinds = [wind, rain, light].filter((one) => one !== undefined).length;
  if (kinds !== 1) return null;
  if (wind !== undefined) return wind <= STRONGEST ? WIND[sway] : null;
  return rain !== undefined && rain <= RAIN_DRAWN ? RAIN : null;
}

export function swayKnownOf(motion: Pick<SiteMotion, 'onTwo'> | undefined): SwayKnown {
  if (!motion) return 'assumed';
  return motion.onTwo ? 'two clips' : 'one clip';
}

/** So many times a count; half a trigger is added on both sides, as it was when that was measured, so that none may be some. */
export function countTimes(count: number, times: number): number {
  return Math.max(0, (count + 0.5) * times - 0.5);
}

/** Between which counts a simulated one lay. */
export function countsWithin(count: number, { low, high }: Off): Off {
  return { low: countTimes(count, low), high: countTimes(count, high) };
}

/** How it is known, before how often. */
export const DRAWN = 'in gardens drawn by another renderer 8 of 10 settings fired falsely';

/** Between 0.33 and 2.5 times as often: to two figures, for no more is known. */
export function oftenText({ low, high }: Off): string {
  return `between ${significant(low, 2)} and ${significant(high, 2)} times as often`;
}
