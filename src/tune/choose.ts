import { type Goal, isWithin, worthOf } from './goal.js';
import type { Pool } from './pool.js';

/**
 * Of all settings the best for a goal. Within an allowance: the one with the highest recall, then the fewest false
 * triggers; where none keeps it, the one with the fewest false triggers, then the highest recall (not kept). By worth: the
 * one that is worth most, then the fewest false triggers. What is still level is settled by fewer photos taken, then by the
 * lower number.
 */
export function chooseBest(pool: ChoicePool, goal: Goal): { setting: number; kept: boolean } {
  const { size, falseTriggers, taken, watchedSeconds } = pool;
  let best = 0;
  let kept = false;
  for (let i = 0; i < size; i++) {
    const keepsIt = isWithin(falseTriggers[i]!, watchedSeconds, goal);
    if (kept && !keepsIt) continue;
    const falseFewer = falseTriggers[best]! - falseTriggers[i]!;
    const takenFewer = taken[best]! - taken[i]!;
    const gained = gainOver(pool, best, i, goal);
    const first = kept || keepsIt ? gained || falseFewer : falseFewer || gained;
    if (keepsIt === kept && (first || takenFewer) <= 0) continue;
    best = i;
    kept = keepsIt;
  }
  return { setting: best, kept };
}

/** How much more a setting gives than another, of what the goal counts: visits, or photos of nothing. */
function gainOver({ caught, falseTriggers }: ChoicePool, than: number, setting: number, goal: Goal): number {
  if (goal.kind === 'allowance') return caught[setting]! - caught[than]!;
  const worth = (i: number) => worthOf(caught[i]!, falseTriggers[i]!, goal);
  const gain = worth(setting) - worth(than);
  // Worths that differ by rounding alone are level.
  return Math.abs(gain) < 1e-9 ? 0 : gain;
}

/** What is chosen by: one figure for each setting. */
export type ChoicePool = Pick<Pool, 'size' | 'caught' | 'falseTriggers' | 'taken' | 'watchedSeconds'>;
