import type { Grid } from '../sweep/grid.js';
import type { Goal } from './goal.js';
import type { Pool } from './pool.js';
import { recommend } from './recommend.js';

/**
 * An allowance of triggers of any kind as one of false triggers: less those at visits. How many there are hangs on the
 * setting, and which one is chosen on the allowance, so it goes round by round, and the allowance never grows again: it ends
 * where what is chosen leaves as many as were allowed. Triggers at visits are counted per watched hour, as everywhere.
 * @returns at least 0 false triggers an hour; unchanged by worth, or where nothing was watched
 */
export function leaveForVisits(goal: Goal, pool: Pool, grid: Grid): Goal {
  if (goal.kind !== 'allowance' || pool.watchedSeconds === 0) return goal;
  const hours = pool.watchedSeconds / 3600;
  let left = goal.falsePerHour;
  for (;;) {
    const { setting } = recommend(pool, grid, { ...goal, falsePerHour: left });
    const leaves = Math.max(0, goal.falsePerHour - pool.countsAt(setting).trueTriggers / hours);
    if (leaves >= left) return { ...goal, falsePerHour: left };
    left = leaves;
  }
}
