import { linearOf } from './gamma.js';
import { type FittedLine, fitLine, median, type TransferPoint } from './noise-line.js';
import { unroundedVariance } from './quantised.js';

/** Side of the squares that are told apart: those that stand still, and those in which something moves. */
const SIDE = 4;
/** Fewest frames after one another that say anything. */
const FEWEST_FRAMES = 3;
/** Grey levels that a square may span: within it all is taken for about as bright. */
const EVEN = 40;
/** Grey levels of a class of places; and how many places it needs. */
const CLASS = 4;
const FEWEST_PLACES = 24;
/** Fewest classes, and how much brighter the brightest must be than the darkest, for a line to be told from a constant. */
const FEWEST_CLASSES = 4;
const LEAST_RANGE = 3;
/** Standard deviations that must lie between a place and black or white. */
const FROM_CLIPPING = 3;
/** Below this share of places that stand still, what is called still may move too. */
const LEAST_STILL = 0.1;
/** The liveliest place of those that stand still lies so many standard deviations of their own spread above the middle. */
const STILL = 3;
/** Squares this much livelier than the calmest may be so for what is in them: they span some grey levels. */
const LIKE = 0.12;
/** Of the places of a class, the share whose liveliness is sure to be noise alone; 1.28 deviations below the middle. */
const SURELY_STILL = 0.1;
const BELOW = 1.28;
/** More squares than this that stay exactly alike from frame to frame, beyond what rounding makes, is a codec at work. */
const MOST_ALIKE = 0.05;
/** Noise of frames two apart against that of frames one apart; 1 where each frame has a noise of its own. */
const MOST_CARRIED = 1.25;
/** What an error and a misfit may be, of the value. */
const MOST_ERROR = 0.15;
const MOST_MISFIT = 0.25;
/** Grey levels squared: noise below this is lost between two levels. */
const LEAST_NOISE = 0.01;

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

/** Noise as large as this part of the steps that coefficients are rounded to keeps its variance within a third. */
const LEAST_OF_STEP = 0.5;

/** What a clip's still places say of the noise of its sensor. */
export type PhotonTransfer = Measured | NotMeasurable;

interface Measured {
  kind: 'measured';
  line: FittedLine;
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

/** Of the picture, looked at. */
const MOST_SQUARES = 1500;
/** Neighbours within a block are more alike in their noise than neighbours of two blocks by so much: it was compressed. */
const MOST_BLOCKY = 0.1;

const CUT = 'the picture is black or white nearly everywhere';

/** A square of a run of frames. */
interface Place {
  /** Which of the picture's squares. */
  square: number;
  level: number;
  light: number;
  /** Variance over time, grey levels squared. */
  variance: number;
  /** The same in linear light. */
  lightVariance: number;
  /** As `variance`, of frames two apart. */
  twoApart: number;
  /** Mean product of the noise of neighbours within a block of compression, and of neighbours of two blocks. */
  within: number;
  between: number;
}

/**
 * Photon transfer: the variance over time of places that stand still against how bright they are (EMVA 1288 R3.1, from
 * memory: K^2 sd^2 + 1/12 + K mu), from differences of frames that follow one another.
 *
 * The model lives in linear light, and pictures hold signals of a curve like sRGB's. So each grey level is taken to linear
 * light by sRGB's curve, and variance measured there, less the share of it that on the signal is rounding. Noise is put
 * onto frames through the same curve, so that at the brightness it was measured at it comes out as it was whatever the
 * camera's own curve; only what it grows to in less light rests on the curve.
 *
 * Light that changes as a whole from frame to frame is taken off. What moves is left out: squares livelier than the still
 * ones of their brightness. Squares that span many grey levels are left out too.
 */
export class StillPlaces {
  private run: Uint8Array[] = [];
  private readonly places: Place[] = [];
  private squares = 0;
  private clipped = 0;
  private uneven = 0;
  private alike = 0;
  private pairs = 0;
  private repeated = 0;
  private frames = 0;
  private brightness = 0;

  private readonly across: number;
  private readonly down: number;
  /** Each so many squares, so that a large picture takes no longer than it must. */
  private readonly step: number;

  /**
   * @param width of the frames, pixels; the size at which noise is wanted
   * @param block width of the blocks that compression works in, where they begin at the left edge; null: none to be seen
   */
  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly block: number | null = null,
  ) {
    this.across = Math.floor(width / SIDE);
    this.down = Math.floor(height / SIDE);
    this.step = Math.ceil(Math.sqrt((this.across * this.down) / MOST_SQUARES));
  }

  /** @param y luminance, `width * height` bytes; copied */
  see(y: Uint8Array): void {
    this.frames++;
    const last = this.run.at(-1);
    if (last && same(last, y)) this.repeated++;
    else this.run.push(Uint8Array.from(y));
  }

  /** What comes next does not follow on what came. */
  restart(): void {
    if (this.run.length >= FEWEST_FRAMES) this.take(this.run);
    this.run = [];
  }

  /** What all frames seen so far come to. */
  measure(stored: Stored): PhotonTransfer {
    this.restart();
    const { frames, places } = this;
    if (frames < FEWEST_FRAMES) return no(`it has ${frames === 1 ? 'one frame' : `${frames} frames`}`);
    if (this.squares === 0) {
      return no(
        this.repeated > 0
          ? 'its frames are alike to the last grey level, as no camera makes them'
          : 'too few of its frames follow one another',
        this.repeated > 0,
      );
    }
    if (places.length === 0) {
      return no(this.clipped > this.uneven ? CUT : 'no place in it is even enough');
    }
    return this.judge(stored);
  }

  private judge({ rounding, as, step, left }: Stored): PhotonTransfer {
    const { points, still, noise, levels, carried, blocky } = this.points(rounding);
    if (still < LEAST_STILL && this.clipped > this.squares / 2) return no(CUT);
    const alike = this.alike / this.pairs;
    const by = as ? ` (it is stored ${as})` : '';
    // Noise below a grey level leaves much alike too; a square in which anything changes tells how much.
    const changing = this.places.flatMap(({ variance }) => (variance > 0 ? [variance] : []));
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
    if (carried > MOST_CARRIED) {
      return no(
        `its noise is smoothed from frame to frame${by}: frames two apart differ ${carried.toFixed(1)} times as much as neighbours`,
        true,
      );
    }
    if (blocky > MOST_BLOCKY) {
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
      const between = first && last ? ` (grey levels ${round(first.level)} to ${round(last.level)})` : '';
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
    return {
      kind: 'measured',
      line,
      places: levels.places,
      levels: [levels.low, levels.high],
      brightness: this.brightness / this.squares,
    };
  }

  /** The points of the curve, rising; the share of places that stood still; and their middle variance in grey levels squared. */
  private points(rounding: number) {
    const still = classesOf(this.places)
      .map(stillOf)
      .map((places) => ({ places, middle: meanOf(places, 'variance') }));
    const calm = this.calmSquares(still);
    const points: TransferPoint[] = [];
    const variances: number[] = [];
    let kept = 0;
    const carried: number[] = [];
    const blocky: number[] = [];
    for (const { places } of still) {
      const found = places.filter(({ square }) => calm[square] === 1);
      if (found.length < FEWEST_PLACES) continue;
      const rounded = meanOf(found, 'variance');
      const variance = Math.max(0, unroundedVariance(rounded) - rounding);
      const level = meanOf(found, 'level');
      const reach = FROM_CLIPPING * Math.sqrt(variance);
      if (level - reach < 0 || level + reach > 255) continue;
      kept += found.length;
      if (rounded > 0) {
        carried.push(meanOf(found, 'twoApart') / rounded);
        blocky.push((meanOf(found, 'within') - meanOf(found, 'between')) / rounded);
      }
      variances.push(rounded);
      points.push({
        level,
        light: meanOf(found, 'light'),
        variance: rounded > 0 ? (meanOf(found, 'lightVariance') * variance) / rounded : 0,
        error: SPREAD * Math.sqrt(1 / found.length),
      });
    }
    return {
      points,
      still: kept / this.squares,
      noise: variances.length === 0 ? 0 : median(variances),
      // What neighbours share without compression (colours made of neighbours, say) they share everywhere.
      carried: carried.length === 0 ? 1 : median(carried),
      blocky: blocky.length === 0 ? 0 : median(blocky),
      levels: { places: kept, low: points[0]?.level ?? 0, high: points.at(-1)?.level ?? 0 },
    };
  }

  /**
   * Squares of the picture that are no livelier than others of their brightness over all runs together, 1 each: what moves
   * by less than the noise shows only so.
   */
  private calmSquares(still: readonly { places: readonly Place[]; middle: number }[]): Uint8Array {
    const count = this.across * this.down;
    const sum = new Float64Array(count);
    const runs = new Uint16Array(count);
    for (const { places, middle } of still) {
      for (const { square, variance } of places) {
        sum[square]! += middle > 0 ? variance / middle : 1;
        runs[square]!++;
      }
    }
    const lively = sum.map((total, i) => (runs[i] === 0 ? Number.POSITIVE_INFINITY : total / runs[i]!));
    const rising = lively.filter(Number.isFinite).sort();
    const spread = SPREAD / Math.sqrt(Math.max(1, median(Array.from(runs.filter((n) => n > 0)))));
    const calmest = (rising[Math.floor(SURELY_STILL * rising.length)] ?? 0) / (1 - BELOW * spread);
    const most = calmest * (1 + Math.max(STILL * spread, LIKE));
    return Uint8Array.from(lively, (value) => (value <= most ? 1 : 0));
  }

  private take(frames: readonly Uint8Array[]): void {
    const { width, height, across, down, step } = this;
    const changes = frames.slice(1).map((y, k) => brightening(frames[k]!, y, width, height));
    for (let by = 0; by < down; by += step) {
      for (let bx = 0; bx < across; bx += step) {
        this.squares++;
        const place = this.place(frames, changes, by * across + bx, (by * width + bx) * SIDE);
        if (place) this.places.push(place);
      }
    }
  }

  private place(
    frames: readonly Uint8Array[],
    changes: readonly number[],
    square: number,
    from: number,
  ): Place | null {
    const { width } = this;
    const n = frames.length;
    let [sum, light, one, two, inLight, low, high] = [0, 0, 0, 0, 0, 255, 0];
    let [within, inside, between, edges] = [0, 0, 0, 0];
    let clipped = false;
    const alike = new Uint8Array(n - 1).fill(1);
    for (let dy = 0; dy < SIDE; dy++) {
      for (let dx = 0; dx < SIDE; dx++) {
        const i = from + dy * width + dx;
        let total = 0;
        let bright = 0;
        for (let k = 0; k < n; k++) {
          total += frames[k]![i]!;
          bright += LIGHT[frames[k]![i]!]!;
        }
        const mean = total / n;
        const meanLight = bright / n;
        if (mean < low) low = mean;
        if (mean > high) high = mean;
        const x = (i % width) + 1;
        const hasNext = this.block !== null && x < width;
        const isEdge = this.block !== null && x % this.block === 0;
        if (hasNext) isEdge ? edges++ : inside++;
        let before = 0;
        for (let k = 1; k < n; k++) {
          const value = frames[k]![i]!;
          const was = frames[k - 1]![i]!;
          if (value !== was) alike[k - 1] = 0;
          if (value === 0 || value === 255) clipped = true;
          const d = value - was - changes[k - 1]! * mean;
          one += d * d;
          const inLinear = LIGHT[value]! - LIGHT[was]! - CURVE * changes[k - 1]! * meanLight;
          inLight += inLinear * inLinear;
          if (k > 1) two += (d + before) ** 2;
          if (hasNext) {
            const next = d * (frames[k]![i + 1]! - frames[k - 1]![i + 1]! - changes[k - 1]! * mean);
            if (isEdge) between += next;
            else within += next;
          }
          before = d;
        }
        sum += mean;
        light += meanLight;
      }
    }
    const pixels = SIDE * SIDE;
    const level = sum / pixels;
    this.brightness += light / pixels;
    if (clipped && (level < 4 || level > 251)) {
      this.clipped++;
      return null;
    }
    this.pairs += n - 1;
    for (const a of alike) this.alike += a;
    if (high - low > EVEN) {
      this.uneven++;
      return null;
    }
    // Half the mean square of a difference; for frames two apart as many as there are.
    const variance = one / (2 * pixels * (n - 1));
    return {
      square,
      level,
      light: light / pixels,
      variance,
      lightVariance: inLight / (2 * pixels * (n - 1)),
      twoApart: two / (2 * pixels * (n - 2)),
      within: inside > 0 ? within / (2 * inside * (n - 1)) : 0,
      between: edges > 0 ? between / (2 * edges * (n - 1)) : 0,
    };
  }
}

/** Of a place's variance, one standard deviation: 16 pixels, of each 7 differences of 8 frames, of 4.9 degrees of freedom. */
const SPREAD = Math.sqrt(2 / (SIDE * SIDE * 4.9));

/** The places of about one brightness that stand still: those not livelier than noise alone makes some of them. */
function stillOf(places: readonly Place[]): Place[] {
  const rising = [...places].sort((a, b) => a.variance - b.variance);
  let middle = rising[Math.floor(SURELY_STILL * rising.length)]!.variance / (1 - BELOW * SPREAD);
  let still = rising;
  for (let round = 0; round < 5; round++) {
    const most = middle * (1 + STILL * SPREAD);
    const count = rising.findIndex(({ variance }) => variance > most);
    still = count < 0 ? rising : rising.slice(0, Math.max(1, count));
    middle = still.reduce((sum, { variance }) => sum + variance, 0) / still.length;
  }
  return still;
}

/** Places of about one brightness each, the darkest first; classes of too few left out. */
function classesOf(places: readonly Place[]): Place[][] {
  const classes = Array.from({ length: Math.ceil(256 / CLASS) }, (): Place[] => []);
  for (const place of places) classes[Math.floor(place.level / CLASS)]!.push(place);
  return classes.filter(({ length }) => length >= FEWEST_PLACES);
}

function meanOf(places: readonly Place[], key: keyof Place): number {
  return places.reduce((sum, place) => sum + place[key], 0) / places.length;
}

/** By how much of itself a frame is brighter than the one before, in the middle of its squares. */
function brightening(a: Uint8Array, b: Uint8Array, width: number, height: number): number {
  const changes: number[] = [];
  const side = 2 * SIDE;
  for (let y = 0; y + side <= height; y += side) {
    for (let x = 0; x + side <= width; x += side) {
      let [was, is] = [0, 0];
      for (let dy = 0; dy < side; dy++) {
        for (let i = (y + dy) * width + x, end = i + side; i < end; i++) {
          was += a[i]!;
          is += b[i]!;
        }
      }
      if (was > 0) changes.push(is / was - 1);
    }
  }
  return changes.length === 0 ? 0 : median(changes);
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Linear light of each grey level. */
const LIGHT = Float64Array.from({ length: 256 }, (_, level) => linearOf(level / 255));
/** Of light that changes by a small share, the signal changes by so much less; sRGB's curve is nearly this power. */
const CURVE = 2.2;

function no(why: string, noiseless = false): NotMeasurable {
  return { kind: 'not measurable', why, noiseless };
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

function round(level: number): number {
  return Math.round(level);
}
