import { median, type TransferPoint } from './noise-line.js';
import { unroundedVariance } from './quantised.js';
import type { Square } from './squares.js';
import { meanOf, spreadOf } from './still-squares.js';

/** Standard deviations that must lie between a class and black or white. */
const FROM_CLIPPING = 3;
/** Of the squares of a class, the share that is surest to stand still. */
const CALMEST = 0.25;

/** Classes whose noise is carried from frame to frame this much more than in the calmest quarter of them sway slowly. */
const MORE_CARRIED = 1.12;

/** What the squares that stand still come to. */
export interface TransferCurve {
  /** Rising. */
  points: TransferPoint[];
  /** Squares that stood still, each counted once in every run; their darkest and brightest grey level. */
  places: number;
  levels: readonly [number, number];
  /** Their middle variance, grey levels squared, rounding and all. */
  noise: number;
  /** Noise of frames two apart against that of frames one apart; and of what neighbours do not share in the calmest squares. */
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
  for (const squares of alikeInTime(still)) {
    const rounded = meanOf(squares, 'variance');
    const variance = Math.max(0, unroundedVariance(rounded) - rounding);
    const level = meanOf(squares, 'level');
    const reach = FROM_CLIPPING * Math.sqrt(variance);
    if (level - reach < 0 || level + reach > 255) continue;
    places += squares.length;
    if (rounded > 0) {
      carried.push(carriedBy(squares));
      carriedAtLeast.push(carriedAlone(calmestOf(squares)));
      const atEdges = squares.filter(({ edges }) => edges > 0);
      if (atEdges.length > 0) {
        blocky.push((meanOf(squares, 'within') - meanOf(atEdges, 'between')) / rounded);
      }
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

/** Without the classes of which nearly all sways, which no square in them shows. */
function alikeInTime(classes: readonly (readonly Square[])[]): (readonly Square[])[] {
  const rising = classes.map(carriedBy).sort((a, b) => a - b);
  const calm = rising[Math.floor(CALMEST * rising.length)] ?? 1;
  return classes.filter((squares) => carriedBy(squares) <= MORE_CARRIED * calm);
}

/** By both spans together, so that what is chosen does not lean to either. */
function calmestOf(squares: readonly Square[]): Square[] {
  const rising = [...squares].sort((a, b) => a.variance + a.twoApart - b.variance - b.twoApart);
  return rising.slice(0, Math.ceil(CALMEST * rising.length));
}

/** As `carriedBy`, of how neighbours differ. */
function carriedAlone(squares: readonly Square[]): number {
  const one = meanOf(squares, 'beside');
  return one > 0 ? meanOf(squares, 'besideTwoApart') / one : 1;
}

function carriedBy(squares: readonly Square[]): number {
  const one = meanOf(squares, 'variance');
  return one > 0 ? meanOf(squares, 'twoApart') / one : 1;
}
