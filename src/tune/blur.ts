import type { Grid } from '../sweep/grid.js';

/**
 * How many standard errors of what a dial's end lies lower or higher than the places next to it are put down to chance.
 * With nothing but noise on the default camera's five dials, the choice then stands at the ends of dials no more often than chance has it.
 */
const CHANCE = 3;

/**
 * A figure of every setting averaged with those of its neighbours one notch away, dial by dial: `weight` for each
 * neighbour against 1 for the setting itself. A setting at a dial's end has the two next to it for neighbours, so that an
 * end keeps no more of its own luck than the middle does. That they lie further in is made up for by how figures change
 * along the dial there, taken from the neighbourhood on all other dials, as far as that is more than chance.
 * @param figures one for each setting of the grid, by its number
 */
export function blurred(figures: Float64Array, grid: Grid, weight: number): Float64Array {
  let from = figures;
  grid.dials.forEach((dial, d) => {
    const last = dial.positions.length - 1;
    if (last === 0) return;
    const along = aroundOnOthers(figures, grid, weight, d);
    const give = CHANCE * errorOfChange(figures, grid, d);
    from = blurredAlong(from, grid, weight, d, (setting, inward) => {
      const next = setting + inward;
      const second = last === 1 ? next : next + inward;
      const kept = (there: number) => shrunk(along[there]! - along[setting]!, give);
      return from[next]! - kept(next) + (from[second]! - kept(second));
    });
  });
  return from;
}

/** A change without what of it is put down to chance. */
function shrunk(change: number, give: number): number {
  return Math.sign(change) * Math.max(0, Math.abs(change) - give);
}

/** @param atEnd the sum of what stands for the neighbours of a setting at an end; `inward` is how far off its neighbour is numbered */
function blurredAlong(
  from: Float64Array,
  grid: Grid,
  weight: number,
  dial: number,
  atEnd: (setting: number, inward: number) => number,
): Float64Array {
  const stride = strideOf(grid, dial);
  const last = (grid.dials[dial]?.positions.length ?? 1) - 1;
  const whole = 1 + 2 * weight;
  const out = new Float64Array(from.length);
  // Settings of one place on the dial are numbered one after the other: this runs over all of them for every block left out.
  for (
    let start = 0, place = 0;
    start < from.length;
    start += stride, place = place === last ? 0 : place + 1
  ) {
    for (let setting = start; setting < start + stride; setting++) {
      const around =
        place === 0
          ? atEnd(setting, stride)
          : place === last
            ? atEnd(setting, -stride)
            : from[setting - stride]! + from[setting + stride]!;
      out[setting] = (from[setting]! + weight * around) / whole;
    }
  }
  return out;
}

/** How far apart the numbers of two settings are that differ by one notch of a dial. */
function strideOf(grid: Grid, dial: number): number {
  return grid.turned(0, dial, 1) as number;
}

/**
 * What lies around each setting on every dial but one, averaged, the setting's own figure left out (where there is no other
 * dial it is all there is). At an end the one neighbour counts for two.
 */
function aroundOnOthers(figures: Float64Array, grid: Grid, weight: number, but: number): Float64Array {
  let from = figures;
  let own = 1;
  grid.dials.forEach(({ positions }, d) => {
    if (d === but || positions.length === 1) return;
    const all = from;
    own /= 1 + 2 * weight;
    from = blurredAlong(all, grid, weight, d, (setting, inward) => 2 * all[setting + inward]!);
  });
  return own === 1 ? figures : from.map((mean, setting) => (mean - own * figures[setting]!) / (1 - own));
}

/**
 * Standard error of the difference of two neighbours along a dial, each averaged along the other dials. The figures' own
 * scatter is taken from their second differences (Gasser, Sroka & Jennen-Steinmetz 1986, Biometrika 73:625-633; from
 * memory), of which averaging along a dial leaves about half.
 */
function errorOfChange(figures: Float64Array, grid: Grid, dial: number): number {
  const last = (grid.dials[dial]?.positions.length ?? 1) - 1;
  const stride = strideOf(grid, dial);
  let squares = 0;
  let n = 0;
  for (
    let start = 0, place = 0;
    start < figures.length;
    start += stride, place = place === last ? 0 : place + 1
  ) {
    if (place === 0 || place === last) continue;
    for (let setting = start; setting < start + stride; setting++) {
      const bend = figures[setting - stride]! - 2 * figures[setting]! + figures[setting + stride]!;
      squares += bend ** 2;
    }
    n += stride;
  }
  if (n === 0) return 0;
  const others = grid.dials.filter(({ positions }, d) => d !== dial && positions.length > 1).length;
  return Math.sqrt((2 * (squares / n / 6)) / 2 ** others);
}
