import type { Pool } from './pool.js';

/** What false triggers an owner puts up with, per watched hour. */
export interface Allowance {
  falsePerHour: number;
}

/** Whether so many false triggers keep the allowance over the watched time. */
export function keeps(falseTriggers: number, watchedSeconds: number, allowance: Allowance): boolean {
  return falseTriggers <= allowance.falsePerHour * (watchedSeconds / 3600) + 1e-9;
}

/**
 * Of all settings the one with the highest recall within the allowance, then the fewest false triggers; where none
 * keeps it, the one with the fewest false triggers, then the highest recall. What is still level is settled by fewer
 * photos taken, then by the lower number.
 */
export function chooseBest(
  { size, caught, falseTriggers, taken, watchedSeconds }: ChoicePool,
  allowance: Allowance,
): { setting: number; kept: boolean } {
  let best = 0;
  let kept = false;
  for (let i = 0; i < size; i++) {
    const keepsIt = keeps(falseTriggers[i]!, watchedSeconds, allowance);
    if (kept && !keepsIt) continue;
    const caughtMore = caught[i]! - caught[best]!;
    const falseFewer = falseTriggers[best]! - falseTriggers[i]!;
    const takenFewer = taken[best]! - taken[i]!;
    const first = kept || keepsIt ? caughtMore || falseFewer : falseFewer || caughtMore;
    if (keepsIt === kept && (first || takenFewer) <= 0) continue;
    best = i;
    kept = keepsIt;
  }
  return { setting: best, kept };
}

/** What is chosen by: one figure for each setting. */
export type ChoicePool = Pick<Pool, 'size' | 'caught' | 'falseTriggers' | 'taken' | 'watchedSeconds'>;

/**
 * Watched hours before an allowance can be told at all: none seen in H hours still leaves up to 3/H an hour, the rule
 * of three (Hanley & Lippman-Hand 1983, JAMA 249:1743-1745). Infinite for an allowance of 0.
 */
export function hoursToTell(allowance: Allowance): number {
  return allowance.falsePerHour > 0 ? 3 / allowance.falsePerHour : Number.POSITIVE_INFINITY;
}
