import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';

/**
 * That tuning, which knows no forecast, advises something else for the same clips, and why; empty where it does not.
 * @param planned the one setting for all hours, by its number in the grid
 * @param recommended by tuning
 */
export function otherwiseTuned(
  planned: number,
  recommended: number,
  grid: Grid,
  goal: Pick<Goal, 'kind'>,
): string[] {
  const here = grid.controlsAt(planned);
  const differ = Object.entries(grid.controlsAt(recommended)).filter(([name, at]) => here[name] !== at);
  if (differ.length === 0) return [];
  const dials = differ.map(([name, at]) => `${name} ${at} (not ${here[name]})`).join(', ');
  const why =
    goal.kind === 'worth'
      ? 'perhaps for each clip counts there by its length, here by the hours that are foretold like it'
      : 'perhaps for the allowance is kept there over all clips together, here in every hour by itself';
  return [`For all that was recorded, whatever is foretold, ${dials} is advised, ${why}.`];
}
