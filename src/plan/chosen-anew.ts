import type { Grid } from '../sweep/grid.js';
import type { Goal } from '../tune/goal.js';
import type { Chooser } from '../tune/unseen.js';
import { type Coming, type Evidence, poolWithout, settingFor } from './evidence.js';
import { boundsWithout } from './gain.js';
import type { Kind } from './kind.js';
import type { Week, WeekInput } from './week.js';

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

/**
 * Whether a setting is what tuning recommends for the very footage that tells of such hours: then what is to be expected of it is
 * what tuning expects.
 * @param recorded all that tuning chose it by
 */
export function isAsTuned(
  { source, parts }: Pick<Evidence, 'source' | 'parts'>,
  setting: number,
  { recorded, recommended }: Pick<WeekInput, 'recorded' | 'recommended'>,
): boolean {
  const wholes = new Set(recorded.map(({ whole }) => whole));
  return (
    source === 'recorded' &&
    setting === recommended &&
    parts.length === wholes.size &&
    parts.every(({ whole }) => wholes.has(whole))
  );
}
