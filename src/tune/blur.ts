import type { Grid } from '../sweep/grid.js';

/**
 * A figure of every setting averaged with those of its neighbours one notch away, dial by dial: `weight` for each
 * neighbour against 1 for the setting itself. At a dial's end the missing neighbour is where the line through the two
 * others leads, so that an end is not drawn towards the middle.
 * @param figures one for each setting of the grid, by its number
 */
export function blurred(figures: Float64Array, grid: Grid, weight: number): Float64Array {
  let from = figures;
  grid.dials.forEach((dial, d) => {
    const last = dial.positions.length - 1;
    if (last === 0) return;
    const to = new Float64Array(from.length);
    const stride = grid.turned(0, d, 1) as number;
    for (let setting = 0; setting < from.length; setting++) {
      const place = grid.placeOf(setting, d);
      const here = from[setting]!;
      const below = place > 0 ? from[setting - stride]! : 2 * here - from[setting + stride]!;
      const above = place < last ? from[setting + stride]! : 2 * here - from[setting - stride]!;
      to[setting] = (weight * below + here + weight * above) / (1 + 2 * weight);
    }
    from = to;
  });
  return from;
}
