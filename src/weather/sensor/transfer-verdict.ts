import { type FittedLine, fitLine, median } from './noise-line.js';
import { type NoiseRange, rangeOf, systematic } from './noise-range.js';
import { unroundedVariance } from './quantised.js';
import { SIDE, type Square } from './squares.js';
import { stillClasses } from './still-squares.js';
import { curveOf, type TransferCurve } from './transfer-curve.js';

/** Fewest classes, and how much brighter the brightest must be than the darkest, for a line to be told from a constant. */
const FEWEST_CLASSES = 4;
const LEAST_RANGE = 3;
/** Below this share of squares that stand still, what is called still may move too. */
const LEAST_STILL = 0.1;
/** More squares than this that stay exactly alike from frame to frame, beyond what rounding makes, is a codec at work. */
const MOST_ALIKE = 0.05;
/** Noise of frames two apart against that of frames one apart; 1 where each frame has a noise of its own. */
const MOST_CARRIED = 1.25;
/** What an error and a misfit may be, of the value. */
const MOST_ERROR = 0.15;
const MOST_MISFIT = 0.25;
/** Grey levels squared: noise below this is lost between two levels. */
const LEAST_NOISE = 0.01;
/** Noise as large as this part of the steps that coefficients are rounded to keeps its variance within a third. */
const LEAST_OF_STEP = 0.5;
/** Neighbours within a block are more alike in their noise than neighbours of two blocks by so much: it was compressed. */
const MOST_BLOCKY = 0.1;

const CUT = 'the picture is black or white nearly everywhere';

/** How a recording was stored, and brought to the size that noise is measured at. */
export interface Stored {
  /** Variance, grey levels squared, of what was rounded before frames came to this size. */
  rounding: number;
  /** What is left of a stored pixel's variance at this size. */
  left: number;
  /** How it is compressed, to be read after "stored"; null where it is not known to be. */
  as: string | null;
  /** Root mean square of the steps that compression rounded to, grey levels, of what is to be seen at this size; null: not known. */
  step: number | null;
}

/** What a clip's still places say of the noise of its sensor. */
export type PhotonTransfer = Measured | NotMeasurable;

interface Measured {
  kind: 'measured';
  line: FittedLine;
  range: NoiseRange;
  /** Squares that stood still; each counted once in every run of frames. */
  places: number;
  /** Their darkest and brightest grey level. */
  levels: readonly [number, number];
  /** Mean linear light of the whole picture, 0 to 1. */
  brightness: number;
}

interface NotMeasurable {
  kind: 'not measurable';
  /** To be read after "because": what stands against it. */
  why: string;
  /** Whether its frames have next to no noise of their own: compression took it, or there is none. */
  noiseless: boolean;
}

/** All that a clip's squares showed. */
export interface Collected {
  /** Squares neither cut by black or white nor uneven. */
  squares: readonly Square[];
  /** How many squares were looked at in all runs, and were left out for either. */
  seen: number;
  clipped: number;
  uneven: number;
  /** Pairs of frames of a square; and in how many of them it stayed as it was. */
  pairs: number;
  alike: number;
  /** Sum of their linear light. */
  brightness: number;
  /** Squares of the picture. */
  ofPicture: number;
}

/** What squares come to. */
export function verdictOf(collected: Collected, { rounding, as, step, left }: Stored): PhotonTransfer {
  const { squares, seen, clipped, uneven, ofPicture } = collected;
  if (squares.length === 0) return no(clipped > uneven ? CUT : 'no place in it is even enough');
  const curve = curveOf(stillClasses(squares, ofPicture), rounding);
  const { points, noise } = curve;
  const still = curve.places / seen;
  if (still < LEAST_STILL && clipped > seen / 2) return no(CUT);
  const alike = collected.alike / collected.pairs;
  const by = as ? ` (it is stored ${as})` : '';
  // Noise below a grey level leaves much alike too; a square in which anything changes tells how much.
  const changing = squares.flatMap(({ variance }) => (variance > 0 ? [variance] : []));
  const often = changing.length === 0 ? 0 : 2 * median(changing);
  const expected = Math.max(0, 1 - often) ** (SIDE * SIDE);
  if (alike > MOST_ALIKE + expected) {
    return no(
      `${percent(alike)} of it stay exactly alike from frame to frame: compression leaves out what changes little${by}`,
      true,
    );
  }
  if (noise < LEAST_NOISE) {
    return no(`its noise is less than the step from one grey level to the next can show${by}`, true);
  }
  if (still < LEAST_STILL) return no('too little of it stands still');
  if (curve.carried > MOST_CARRIED) return carriedFrom(curve, by);
  if (curve.blocky > MOST_BLOCKY) {
    return no(`its noise ends at the edges of squares of 8 pixels: compression rounded it away${by}`, true);
  }
  const source = Math.sqrt(unroundedVariance(noise) / left);
  if (step !== null && source < LEAST_OF_STEP * step) {
    return no(
      `compression rounds to steps of about ${step.toFixed(1)} grey levels, which its noise of about ${source.toFixed(1)} does not outweigh${by}`,
      true,
    );
  }
  const [first, last] = [points[0], points.at(-1)];
  if (points.length < FEWEST_CLASSES || !first || !last || last.light < LEAST_RANGE * first.light) {
    const between =
      first && last ? ` (grey levels ${Math.round(first.level)} to ${Math.round(last.level)})` : '';
    return no(`what stands still in it is all about as bright${between}`);
  }
  const line = fitLine(points);
  if (!(line.slope > 0) || line.misfit > MOST_MISFIT) {
    return no(
      `its noise does not grow with the light as a sensor's does: it was smoothed or compressed${by}`,
    );
  }
  if (line.slopeError > MOST_ERROR) {
    return no(
      `its gain can be told to ${percent(line.slopeError)} only: too few places stand still, or their noise follows no one line`,
    );
  }
  const deviation = Math.sqrt(Math.max(0, unroundedVariance(noise) - rounding));
  const share = systematic({ compressed: as !== null, deviation, carried: curve.carried });
  return {
    kind: 'measured',
    line,
    range: rangeOf(line, share, first.light),
    places: curve.places,
    levels: curve.levels,
    brightness: collected.brightness / seen,
  };
}

/** Noise that is smoothed is so in the calmest squares and in every pixel by itself; what moves takes neighbours along. */
function carriedFrom({ carried, carriedAtLeast }: TransferCurve, by: string): NotMeasurable {
  const differ = `frames two apart differ ${carried.toFixed(1)} times as much as neighbours`;
  return carriedAtLeast > MOST_CARRIED
    ? no(`its noise is smoothed from frame to frame${by}: ${differ}`, true)
    : no(`too little of it stands still: something sways slowly nearly everywhere, for ${differ}`);
}

export function no(why: string, noiseless = false): NotMeasurable {
  return { kind: 'not measurable', why, noiseless };
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
