import { median } from './noise-line.js';
import { SIDE, type Square } from './squares.js';

/** Grey levels of a class of squares; and how many it needs. */
const CLASS = 4;
const FEWEST_SQUARES = 24;
/** The liveliest square of those that stand still lies so many standard deviations of their own spread above the middle. */
const STILL = 3;
/** Squares this much livelier than the calmest may be so for what is in them: they span some grey levels. */
const LIKE = 0.12;
/** Of the squares of a class, the share whose liveliness is sure to be noise alone; 1.28 deviations below the middle. */
const SURELY_STILL = 0.1;
const BELOW = 1.28;

/**
 * Of the variance of a square where there is white noise alone, one standard deviation, of its value. Mean squares of the n - 1 differences
 * of frames that follow one another have a variance of (3n - 4) / (n - 1)^2 of a pixel's, for neighbouring differences
 * share a frame.
 * @param frames in its run, at least 2
 */
export function spreadOf(frames: number): number {
  return Math.sqrt((3 * frames - 4) / (frames - 1) ** 2) / SIDE;
}

/** The same of frames two apart, of which each second one shares a frame. */
function spreadTwoApart(frames: number): number {
  const pairs = frames - 2;
  return Math.sqrt((2 * pairs + Math.max(0, pairs - 2)) / pairs ** 2) / SIDE;
}

/** The squares that stand still, in classes of about one brightness, the darkest first; classes of too few left out. */
export function stillClasses(all: readonly Square[], count: number): Square[][] {
  const classes = classesOf(all).map(stillOf);
  // What moves by less than the noise shows over all runs together only; what moves slowly, in frames two apart only.
  const quick = calmSquares(classes, count, 'variance', spreadOf);
  const slow = calmSquares(classes, count, 'twoApart', spreadTwoApart);
  return classes
    .map((squares) => squares.filter(({ square }) => quick[square] === 1 && slow[square] === 1))
    .filter(({ length }) => length >= FEWEST_SQUARES);
}

/** The squares of about one brightness that stand still: those not livelier than noise alone makes some of them. */
function stillOf(squares: readonly Square[]): Square[] {
  const rising = [...squares].sort((a, b) => a.variance - b.variance);
  const spread = Math.sqrt(
    rising.reduce((sum, { frames }) => sum + spreadOf(frames) ** 2, 0) / rising.length,
  );
  let middle = rising[Math.floor(SURELY_STILL * rising.length)]!.variance / (1 - BELOW * spread);
  let still = rising;
  for (let round = 0; round < 5; round++) {
    still = rising.filter(({ variance, frames }) => variance <= middle * (1 + STILL * spreadOf(frames)));
    if (still.length === 0) return rising.slice(0, 1);
    middle = meanOf(still, 'variance');
  }
  return still;
}

/** Squares of the picture that are no livelier than others of their brightness over all runs together, 1 each. */
function calmSquares(
  classes: readonly (readonly Square[])[],
  count: number,
  key: 'variance' | 'twoApart',
  spreadOf: (frames: number) => number,
): Uint8Array {
  const sum = new Float64Array(count);
  const spreads = new Float64Array(count);
  const runs = new Uint16Array(count);
  for (const squares of classes) {
    const middle = meanOf(squares, key);
    for (const { square, frames, [key]: value } of squares) {
      sum[square]! += middle > 0 ? value / middle : 1;
      spreads[square]! += spreadOf(frames) ** 2;
      runs[square]!++;
    }
  }
  const lively = sum.map((total, i) => (runs[i] === 0 ? Number.POSITIVE_INFINITY : total / runs[i]!));
  const spread = spreads.map((total, i) => (runs[i] === 0 ? 0 : Math.sqrt(total) / runs[i]!));
  const seen = Array.from(spread.filter((_, i) => runs[i]! > 0));
  const rising = lively.filter(Number.isFinite).sort();
  const calmest =
    (rising[Math.floor(SURELY_STILL * rising.length)] ?? 0) /
    (1 - BELOW * (seen.length === 0 ? 0 : median(seen)));
  return Uint8Array.from(lively, (value, i) =>
    value <= calmest * (1 + Math.max(STILL * spread[i]!, LIKE)) ? 1 : 0,
  );
}

function classesOf(squares: readonly Square[]): Square[][] {
  const classes = Array.from({ length: Math.ceil(256 / CLASS) }, (): Square[] => []);
  for (const square of squares) classes[Math.floor(square.level / CLASS)]!.push(square);
  return classes.filter(({ length }) => length >= FEWEST_SQUARES);
}

export function meanOf(squares: readonly Square[], key: keyof Square): number {
  return squares.reduce((sum, square) => sum + square[key], 0) / squares.length;
}
