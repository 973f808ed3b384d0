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
      const levelled = (notches: number) => {
        const there = setting + notches * inward;
        const change = along[there]! - along[setting]!;
        const kept = Math.sign(change) * Math.max(0, Math.abs(change) - give);
        return from[there]! - kept;
      };
      return [levelled(1), levelled(Math.min(2, last))];
    });
  });
  return from;
}

/** @param atEnd what stands for both neighbours of a setting at an end; `inward` is how far off its neighbour is numbered */
function blurredAlong(
  from: Float64Array,
  grid: Grid,
  weight: number,
  dial: number,
  atEnd: (setting: number, inward: number) => readonly [number, number],
): Float64Array {
  const stride = grid.turned(0, dial, 1) as number;
  const last = (grid.dials[dial]?.positions.length ?? 1) - 1;
  return from.map((here, setting) => {
    const place = grid.placeOf(setting, dial);
    const [a, b] =
      place === 0
        ? atEnd(setting, stride)
        : place === last
          ? atEnd(setting, -stride)
          : [from[setting - stride]!, from[setting + stride]!];
    return (here + weight * (a + b)) / (1 + 2 * weight);
  });
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
    from = blurredAlong(all, grid, weight, d, (setting, inward) => {
      const neighbour = all[setting + inward]!;
      return [neighbour, neighbour];
    });
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
  const stride = grid.turned(0, dial, 1) as number;
  let squares = 0;
  let n = 0;
  figures.forEach((here, setting) => {
    const place = grid.placeOf(setting, dial);
    if (place === 0 || place === last) return;
    squares += (figures[setting - stride]! - 2 * here + figures[setting + stride]!) ** 2;
    n++;
  });
  if (n === 0) return 0;
  const others = grid.dials.filter(({ positions }, d) => d !== dial && positions.length > 1).length;
  return Math.sqrt((2 * (squares / n / 6)) / 2 ** others);
}
