import type { Grid } from '../sweep/grid.js';

/** Dials of fewer positions have no middle. */
const FEWEST_POSITIONS = 3;

/**
 * Of the settings that are worth most, the one farthest from where that ends: the middle of a plateau, from which every
 * dial may be a notch off. Each dial's way to the edge counts as a share of its length, and the nearest edge counts; of
 * those as far from it, the one nearest to the middle of the plateau, then the lower number. Dials of one or two positions
 * do not count, for each of their positions is an end.
 */
export function middleOfPlateau(worth: Float64Array, grid: Grid): number {
  const most = worth.reduce((a, b) => Math.max(a, b));
  const isLevel = (setting: number) => worth[setting]! >= most - 1e-9;
  const plateau = Array.from(worth.keys()).filter(isLevel);
  const dials = grid.dials.flatMap(({ positions }, d) =>
    positions.length < FEWEST_POSITIONS ? [] : [{ d, length: positions.length }],
  );
  const share = (setting: number, { d, length }: { d: number; length: number }) =>
    grid.placeOf(setting, d) / length;
  const centre = dials.map(
    (dial) => plateau.reduce((sum, setting) => sum + share(setting, dial), 0) / plateau.length,
  );
  const depths = new Float64Array(worth.length).fill(Number.POSITIVE_INFINITY);
  for (const { d, length } of dials) {
    const stride = grid.turned(0, d, 1) as number;
    // Notches to the edge: down the dial in rising order of settings, then up it in falling order.
    const notches = new Uint32Array(worth.length);
    const step = (setting: number, before: number, isEnd: boolean) => {
      notches[setting] = 1 + (isEnd || !isLevel(before) ? 0 : notches[before]!);
      depths[setting] = Math.min(depths[setting]!, notches[setting]! / length);
    };
    for (const setting of plateau) step(setting, setting - stride, grid.placeOf(setting, d) === 0);
    for (const setting of plateau.toReversed()) {
      step(setting, setting + stride, grid.placeOf(setting, d) === length - 1);
    }
  }
  const off = (setting: number) =>
    dials.reduce((sum, dial, i) => sum + (share(setting, dial) - centre[i]!) ** 2, 0);
  let best = { setting: -1, depth: 0, off: 0 };
  for (const setting of plateau) {
    const here = { setting, depth: depths[setting]!, off: off(setting) };
    const deeper = here.depth - best.depth;
    const nearer = best.off - here.off;
    if (best.setting < 0 || deeper > 1e-9 || (deeper > -1e-9 && nearer > 1e-9)) best = here;
  }
  return best.setting;
}
