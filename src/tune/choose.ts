import type { Counts } from '../score/score.js';

/** What false triggers an owner puts up with, per watched hour. */
export interface Allowance {
  falsePerHour: number;
}

/** Whether so many false triggers keep the allowance over the watched time. */
export function keeps(counts: Counts, allowance: Allowance): boolean {
  return counts.falseTriggers <= allowance.falsePerHour * (counts.watchedSeconds / 3600) + 1e-9;
}

/**
 * Of settings 0 .. size-1 the one with the highest recall within the allowance, then the fewest false triggers; where
 * none keeps it, the one with the fewest false triggers, then the highest recall. What is still level is settled by
 * fewer photos taken, then by the lower number.
 */
export function chooseBest(
  size: number,
  countsAt: (setting: number) => Counts,
  allowance: Allowance,
): { setting: number; kept: boolean } {
  let setting = 0;
  let best = countsAt(0);
  let kept = keeps(best, allowance);
  for (let i = 1; i < size; i++) {
    const counts = countsAt(i);
    const keepsIt = keeps(counts, allowance);
    if (kept && !keepsIt) continue;
    const caughtMore = counts.caught - best.caught;
    const falseFewer = best.falseTriggers - counts.falseTriggers;
    const takenFewer = taken(best) - taken(counts);
    const better =
      keepsIt !== kept ||
      (kept ? caughtMore || falseFewer || takenFewer : falseFewer || caughtMore || takenFewer) > 0;
    if (!better) continue;
    setting = i;
    best = counts;
    kept = keepsIt;
  }
  return { setting, kept };
}

/**
 * Watched hours before an allowance can be told at all: none seen in H hours still leaves up to 3/H an hour, the rule
 * of three (Hanley & Lippman-Hand 1983, JAMA 249:1743-1745). Infinite for an allowance of 0.
 */
export function hoursToTell(allowance: Allowance): number {
  return allowance.falsePerHour > 0 ? 3 / allowance.falsePerHour : Number.POSITIVE_INFINITY;
}

function taken(counts: Counts): number {
  return counts.trueTriggers + counts.falseTriggers + counts.ignoredTriggers;
}
