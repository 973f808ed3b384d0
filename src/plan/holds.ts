import type { Grid } from '../sweep/grid.js';
import { isBetterLeft } from '../tune/doubts.js';
import { timesAsOften } from '../tune/holds.js';
import type { Pool } from '../tune/pool.js';
import type { Off } from '../weather/off.js';
import { type Coming, type Ground, poolToChooseBy } from './evidence.js';
import type { Changed } from './gain.js';
import type { PlanGoal } from './plan-goal.js';
import type { Week } from './week.js';

/**
 * Whether the settings advised for a week would stay, did all settings alike fire falsely in simulated weather as seldom and as often
 * as the ranges beside drawings leave open; each over the hours that it was chosen for.
 * @returns null where nothing that they were chosen by was simulated, or any of it was held against no drawing
 */
export function weekHoldsWithin(
  { one, worthIt, chosenFor }: Pick<Week, 'one' | 'worthIt' | 'chosenFor'>,
  by: { coming: Coming; grid: Grid; goal: PlanGoal },
): boolean | null {
  const advised = [...chosenFor].filter(
    ([setting, hours]) => hours.length > 0 && (worthIt ? setting !== one : setting === one),
  );
  const offs = advised
    .flatMap(([, hours]) => hours.flatMap(({ ground, bounds }) => [ground, ...bounds]))
    .flatMap(({ off }) => (off === undefined ? [] : [off]));
  if (offs.length === 0 || offs.includes(null)) return null;
  return advised.every(([setting, hours]) => {
    const isWrong = (timesOf: (off: Off) => number) => isWrongWhere(setting, hours, timesOf, by);
    return !isWrong(({ low }) => low) && !isWrong(({ high }) => high);
  });
}

function isWrongWhere(
  setting: number,
  hours: readonly Changed[],
  timesOf: (off: Off) => number,
  { coming, grid, goal }: { coming: Coming; grid: Grid; goal: PlanGoal },
): boolean {
  const parts = hours.map((part) => ({
    pool: firing(part.ground, timesOf),
    hours: part.hours,
    bounds: part.bounds.map((ground) => firing(ground, timesOf)),
  }));
  return isBetterLeft(setting, poolToChooseBy(parts, coming, goal), grid, goal);
}

/** What a ground shows, as if it had fired falsely so many times as often where it was simulated. */
function firing({ pool, off }: Ground, timesOf: (off: Off) => number): Pool {
  if (!off) return pool;
  return { ...pool, ...timesAsOften(pool, timesOf(off)) };
}
