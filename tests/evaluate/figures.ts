import { type Goal, keeps, worthOf } from '../../src/tune/goal.js';
import type { Pool } from '../../src/tune/pool.js';

export function recall(pool: Pool, setting: number): number {
  return pool.caught[setting]! / Math.max(1, pool.visits);
}

/** False triggers a watched hour. */
export function rate(pool: Pool, setting: number): number {
  return pool.falseTriggers[setting]! / (pool.watchedSeconds / 3600);
}

export function kept(pool: Pool, setting: number, goal: Goal & { kind: 'allowance' }): number {
  return keeps(pool.falseTriggers[setting]!, pool.watchedSeconds, goal) ? 1 : 0;
}

/** What a setting gives less than another: recall, or by worth photos of nothing for each visit that came. */
export function lostIn(pool: Pool, best: number, setting: number, goal: Goal): number {
  if (goal.kind === 'allowance') return recall(pool, best) - recall(pool, setting);
  const worth = (s: number) => worthOf(pool.caught[s]!, pool.falseTriggers[s]!, goal);
  return (worth(best) - worth(setting)) / Math.max(1, pool.visits);
}

/** 1 where a prediction held. */
export function holds({ low, high }: { low: number; high: number }, came: number): number {
  return came >= low - 1e-9 && came <= high + 1e-9 ? 1 : 0;
}
