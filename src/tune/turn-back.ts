import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';

/**
 * A setting with every dial turned back to where it stands in another, as far as that changes no count on any of the
 * footage: what is advised for one kind of weather differs from what is advised for all of it only where that does
 * something. Dials are turned back one after the other, in their order.
 */
export function turnedBack(
  setting: number,
  towards: number,
  parts: readonly SweepCounts[],
  grid: Grid,
): number {
  const countsAt = (at: number) => JSON.stringify(parts.map((part) => part.at(at)));
  const counts = countsAt(setting);
  return grid.dials.reduce((at, _, dial) => {
    const back = grid.turned(at, dial, grid.placeOf(towards, dial) - grid.placeOf(at, dial)) ?? at;
    return back !== at && countsAt(back) === counts ? back : at;
  }, setting);
}
