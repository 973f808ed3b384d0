import { median, type TransferPoint } from './noise-line.js';
import { unroundedVariance } from './quantised.js';
import type { Square } from './squares.js';
import { meanOf, spreadOf } from './still-squares.js';

/** Standard deviations that must lie between a class and black or white. */
const FROM_CLIPPING = 3;
/** Of the squares of a class, the share that is surest to stand still. */
const CALMEST = 0.25;

/** What the squares that stand still come to. */
export interface TransferCurve {
  /** Rising. */
  points: TransferPoint[];
  /** Squares that stood still, each counted once in every run; their darkest and brightest grey level. */
  places: number;
  levels: readonly [number, number];
  /** Their middle variance, grey levels squared, rounding and all. */
  noise: number;
  /** Noise of frames two apart against that of frames one apart; and of those squares only that are calmest. */
  carried: number;
  carriedAtLeast: number;
  /** How much more alike neighbours are within a block of compression than across its edge, of their variance. */
  blocky: number;
}

/**
 * @param still classes of squares that stand still, the darkest first
 * @param rounding variance, grey levels squared, of what was rounded before frames came to this size
 */
export function curveOf(still: readonly (readonly Square[])[], rounding: number): TransferCurve {
  const points: TransferPoint[] = [];
  const variances: number[] = [];
  const carried: number[] = [];
  const carriedAtLeast: number[] = [];
  const blocky: number[] = [];
  let places = 0;
  for (const squares of still) {
    const rounded = meanOf(squares, 'variance');
    const variance = Math.max(0, unroundedVariance(rounded) - rounding);
    const level = meanOf(squares, 'level');
    const reach = FROM_CLIPPING * Math.sqrt(variance);
    if (level - reach < 0 || level + reach > 255) continue;
    places += squares.length;
    if (rounded > 0) {
      carried.push(carriedBy(squares));
      carriedAtLeast.push(carriedBy(calmestOf(squares)));
      blocky.push((meanOf(squares, 'within') - meanOf(squares, 'between')) / rounded);
    }
    variances.push(rounded);
    points.push({
      level,
      light: meanOf(squares, 'light'),
      variance: rounded > 0 ? (meanOf(squares, 'lightVariance') * variance) / rounded : 0,
      error: Math.sqrt(squares.reduce((sum, { frames }) => sum + spreadOf(frames) ** 2, 0)) / squares.length,
    });
  }
  return {
    points,
    places,
    levels: [points[0]?.level ?? 0, points.at(-1)?.level ?? 0],
    noise: median(variances, 0),
    // What neighbours share without compression (colours made of neighbours, say) they share everywhere.
    carried: median(carried, 1),
    carriedAtLeast: median(carriedAtLeast, 1),
    blocky: median(blocky, 0),
  };
}

/** By both spans together, so that what is chosen does not lean to either. */
function calmestOf(squares: readonly Square[]): Square[] {
  const rising = [...squares].sort((a, b) => a.variance + a.twoApart - b.variance - b.twoApart);
  return rising.slice(0, Math.ceil(CALMEST * rising.length));
}

function carriedBy(squares: readonly Square[]): number {
  const one = meanOf(squares, 'variance');
  return one > 0 ? meanOf(squares, 'twoApart') / one : 1;
}
