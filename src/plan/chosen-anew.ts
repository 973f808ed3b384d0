import type { Grid } from '../sweep/grid.js';
import type { Goal } from '../tune/goal.js';
import type { Chooser } from '../tune/unseen.js';
import { type Coming, poolWithout, settingFor } from './evidence.js';
import { boundsWithout } from './gain.js';
import type { Kind } from './kind.js';
import type { Week } from './week.js';

/**
 * How a setting of the week was chosen from what is known of a kind of hours, beside the other hours that it was chosen for:
 * what is left out of the one is left out of all, and the rest of each counts by its hours as before.
 * @returns null: it was not chosen from it
 */
export function chooserOf(
  { chosenFor, groundFor }: Pick<Week, 'chosenFor' | 'groundFor'>,
  kind: Kind,
  setting: number,
  { coming, grid, goal }: { coming: Coming; grid: Grid; goal: Goal },
): Chooser | null {
  const of = chosenFor.get(setting) ?? [];
  const own = groundFor(kind);
  if (!of.some(({ ground }) => ground === own)) return null;
  return (rest, _grid, _goal, leftOut) => {
    const pools = of.flatMap((part) => {
      const pool = part.ground === own ? rest : poolWithout(part.ground, leftOut);
      return pool ? [{ pool, hours: part.hours, bounds: boundsWithout(part, leftOut) }] : [];
    });
    return { setting: settingFor(pools, coming, grid, goal) };
  };
}
