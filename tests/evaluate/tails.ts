import type { Camera } from '../../src/camera/description.js';
import { Grid } from '../../src/sweep/grid.js';
import { fitPareto, paretoAbove } from './pareto.js';
import type { Sharp } from './peaks.js';

/** A tail's shape is drawn to this as if it had been seen in so many peaks: areas have somewhat heavy tails. */
const USUAL_SHAPE = 0.1;
const USUAL_WEIGHT = 10;
/** Fewer peaks are no tail. */
const FEWEST_PEAKS = 3;
/** Places below the minimumArea dial, each half the one after it, from which tails may start. */
const BELOW = 2;
/** Standard deviation of the logarithm of a visit's margin, were the animal to come again. */
const KERNEL = 0.35;

/** A camera's grid with BELOW more places under its minimumArea dial: how far calm moments were from firing. */
export function deepened(camera: Camera, grid: Grid): Grid {
  return new Grid(
    camera,
    grid.dials.map((dial) => {
      if (dial.sets !== 'minimumArea') return dial;
      const under = Array.from({ length: BELOW }, (_, i) =>
        Math.max(1, Math.round(dial.values[0]! / 2 ** (BELOW - i))),
      );
      return {
        ...dial,
        positions: [...under, ...dial.positions],
        values: [...under, ...dial.values],
      };
    }),
  );
}

/** The number on the deepened grid of a setting of the grid, with minimumArea at another place of that. */
function inDeep(grid: Grid, setting: number, place: number): number {
  return grid.dials.reduce((at, { sets, positions }, d) => {
    if (sets !== 'minimumArea') return at * positions.length + grid.placeOf(setting, d);
    return at * (positions.length + BELOW) + place;
  }, 0);
}

/**
 * False triggers expected of each setting by peaks over thresholds (Davison & Smith 1990, J. R. Stat. Soc. B 52:393-442;
 * Coles 2001, chapter 4): from each lower minimumArea with peaks enough, their number times the generalised Pareto tail
 * of their excesses; the mean of these and of what was counted.
 * @param clips read on the deepened grid
 * @param counted false triggers of each setting
 */
export function falseByTails(clips: readonly Sharp[], grid: Grid, counted: Float64Array): Float64Array {
  const dial = grid.dialSetting('minimumArea');
  const values = grid.dials[dial]!.values;
  const deep = [...values.slice(0, BELOW).map((_, i) => values[0]! / 2 ** (BELOW - i)), ...values];
  const stride = grid.turned(0, dial, 1) as number;
  const expected = new Float64Array(grid.size);
  for (let setting = 0; setting < grid.size; setting++) {
    if (grid.placeOf(setting, dial) !== 0) continue;
    const tails = deep.map((from, place) => {
      const at = inDeep(grid, setting, place);
      // Areas are whole: half a pixel for the rounding.
      const excesses = clips.flatMap(({ peaks }) => Array.from(peaks[at]!, (peak) => peak + 0.5 - from));
      return {
        from,
        n: excesses.length,
        pareto: excesses.length < FEWEST_PEAKS ? null : fitPareto(excesses, USUAL_SHAPE, USUAL_WEIGHT),
      };
    });
    values.forEach((area, place) => {
      const here = setting + place * stride;
      const witnesses = [counted[here]!];
      for (const { from, n, pareto } of tails.slice(0, place + BELOW)) {
        if (pareto) witnesses.push(n * paretoAbove(pareto, area - from));
      }
      expected[here] = witnesses.reduce((sum, x) => sum + x, 0) / witnesses.length;
    });
  }
  return expected;
}

/**
 * Visits expected to be caught: those that were, but each with the probability that its margin, scattered by KERNEL, would
 * still be enough, instead of yes or no. What busy time lost stays lost.
 */
export function caughtByMargins(clips: readonly Sharp[], grid: Grid, counted: Float64Array): Float64Array {
  const dial = grid.dialSetting('minimumArea');
  const values = grid.dials[dial]!.values;
  const known = new Map<Float64Array, Float64Array>();
  const softer = (margins: Float64Array) => {
    const before = known.get(margins);
    if (before) return before;
    const by = Float64Array.from(values, (area) =>
      margins.reduce((sum, margin) => sum + chanceAt(margin, area) - (margin >= area ? 1 : 0), 0),
    );
    known.set(margins, by);
    return by;
  };
  return counted.map((caught, setting) => {
    const place = grid.placeOf(setting, dial);
    const at = inDeep(grid, setting, BELOW);
    return clips.reduce((sum, { margins }) => sum + softer(margins[at]!)[place]!, caught);
  });
}

/** That a visit of such a margin is caught at a minimumArea when it comes again: a logistic of the kernel's variance. */
function chanceAt(margin: number, area: number): number {
  if (margin === 0) return 0;
  const steepness = Math.PI / (Math.sqrt(3) * KERNEL);
  return 1 / (1 + Math.exp(-steepness * Math.log((margin + 0.5) / area)));
}
