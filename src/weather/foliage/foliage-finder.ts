import { luminance } from '../../engine/luminance.js';
import { smooth } from '../../engine/smooth.js';
import { noiseByBrightness } from '../sensor/still-noise.js';
import { boxMean } from './box.js';
import { regions } from './regions.js';
import { stillEdges } from './still-edges.js';
import { leafyContrast, structureOf } from './texture.js';

/** A map is looked for at no more than this width: leaves need no finer one. */
const FINDING_WIDTH = 320;
/** Frames that are taken together where nobody says where a run of them begins. */
const RUN = 8;
/** Side of the windows over which motion and texture are gathered, as a share of the frame's width. */
const WINDOW = 0.03;
/** Shift from frame to frame, thousandths of the frame's width, from which on a place may move, and surely does. */
const MOVES = [0.3, 0.6] as const;
/** Share of the slope around an edge that has its direction, where it runs straight; and pixels to either side that are looked at. */
const STRAIGHT = 0.3;
const STRAIGHT_FOR = 8;
/** Shift of leaves in wind at least, a quarter of what drawn scenes show at Beaufort 4 (CALIBRATION in estimate.ts). */
const IN_WIND = 2;
/** Change over that of the sensor's noise, from which on a place may move, and surely does; and grey levels at least. */
const OVER_NOISE = [0.5, 1.2] as const;
const LEAST_CHANGE = 1;
/** How surely a place must move, 0..1, to sway at all, and to sway wholly. */
const SWAYS_FROM = [0.2, 0.6] as const;
/**
 * Contrast of texture, grey levels per pixel, that is surely that of leaves, or as much as is usual where things move;
 * what has less than half of it does not look like leaves.
 */
const LEAFY = 14;
const LEAST_LEAFY = 8;
/** Shares of the frame: less foliage is none; so much that looks like leaves but was not seen to move is worth asking for. */
const LEAST_FOLIAGE = 0.003;
/** From here on a pixel of a map counts as foliage. */
const SWAYS = 128;
/** Share of the frame of one clump of leaves, at least. */
const LEAST_CLUMP = 0.003;
const MUCH_LEAFY = 0.05;

/** The mean of squared normal deviates over their median. */
const NORMAL_MEDIAN = 2.198;

/** What was found of foliage in a clip. */
export interface FoundFoliage {
  /** `width * height` bytes: how much each pixel is something that sways. All 0 where nothing is. */
  map: Uint8Array;
  /** Shares of the frame: what sways; what looks like leaves, and was not seen to move. */
  share: number;
  still: number;
  /** Mean squared change that the sensor's noise makes, for each pixel of the finder's size. */
  noise: Float32Array;
  /** Whether more of it may be foliage than was seen to sway: only an outline can tell. */
  unsure: boolean;
  /**
   * `width * height` bytes each, 255 on them: long edges that stand still, with what lies close beside them; those of them that run
   * straight, as the rim of a leaf does not; places that would show it if they moved as leaves do, and do not.
   */
  edges: Uint8Array;
  straight: Uint8Array;
  steady: Uint8Array;
}

/**
 * Finds what sways from a sample of the clip itself: what moves in most of its runs and looks like leaves, which is texture
 * without one ruling direction. Where brightness has slope g, a shift u changes it by g u (Lucas & Kanade 1981): what has a
 * strong slope and does not change stands still (paint, wood, stone), however it looks; what passes, such as an animal, is
 * not there in most runs. The limits are ours, set on yards drawn for the tests.
 */
export class FoliageFinder {
  readonly #small: { width: number; height: number };
  readonly #sum: Float32Array;
  readonly #slope: Float32Array;
  /** Of each run that is over: the usual squared change of each pixel. */
  readonly #runs: Float32Array[] = [];
  /** The changes of this run, pair by pair. */
  readonly #changes: Int16Array[];
  #now: Uint8Array;
  #before: Uint8Array;
  #pairs = 0;
  #frames = 0;
  #fresh = true;

  constructor(
    private readonly width: number,
    private readonly height: number,
  ) {
    const factor = Math.min(1, FINDING_WIDTH / width);
    this.#small = {
      width: Math.max(1, Math.round(width * factor)),
      height: Math.max(1, Math.round(height * factor)),
    };
    const pixels = this.#small.width * this.#small.height;
    this.#sum = new Float32Array(pixels);
    this.#slope = new Float32Array(pixels);
    this.#changes = Array.from({ length: RUN - 1 }, () => new Int16Array(pixels));
    this.#now = new Uint8Array(pixels);
    this.#before = new Uint8Array(pixels);
  }

  /** The next frame does not follow on from the last one. */
  restart(): void {
    this.#endRun();
    this.#fresh = true;
  }

  /** @param y luminance, `width * height` bytes; frames in order */
  see(y: Uint8Array): void {
    const { width, height } = this.#small;
    [this.#now, this.#before] = [this.#before, this.#now];
    luminance(y, 1, this.width, this.height, width, height, this.#now);
    const [now, before, sum, slope] = [this.#now, this.#before, this.#sum, this.#slope];
    for (let i = 0; i < now.length; i++) sum[i]! += now[i]!;
    for (let row = 1; row < height - 1; row++) {
      for (let i = row * width + 1; i < (row + 1) * width - 1; i++) {
        const gx = now[i + 1]! - now[i - 1]!;
        const gy = now[i + width]! - now[i - width]!;
        slope[i]! += (gx * gx + gy * gy) / 4;
      }
    }
    this.#frames++;
    if (this.#fresh) {
      this.#fresh = false;
      return;
    }
    const middle = middleDifference(now, before);
    const changes = this.#changes[this.#pairs++]!;
    for (let i = 0; i < now.length; i++) changes[i] = now[i]! - before[i]! - middle;
    if (this.#pairs === this.#changes.length) this.#endRun();
  }

  find(): FoundFoliage {
    this.#endRun();
    const { width, height } = this.#small;
    const pixels = width * height;
    if (this.#runs.length === 0) {
      const nothing = new Uint8Array(this.width * this.height);
      const noise = Float32Array.from(nothing);
      return {
        map: nothing,
        share: 0,
        still: 0,
        noise,
        unsure: false,
        edges: nothing,
        straight: nothing,
        steady: nothing,
      };
    }
    const mean = this.#sum.map((s) => s / this.#frames);
    const energy = medianOf(this.#runs, (energy) => energy);
    const radius = Math.max(1, Math.round((WINDOW * width) / 2));
    const noise = noiseByBrightness(
      boxMean(energy, width, height, radius),
      boxMean(mean, width, height, radius),
    );
    const slope = this.#slope.map((s, i) => Math.max(0, s / this.#frames - noise[i]! / 2));
    const contrast = leafyContrast(mean, width, height, radius);
    const moves = movement(energy, noise, slope, width, height, radius);
    const usual = Math.max(LEAST_LEAFY, Math.min(LEAFY, usualWhere(contrast, moves) ?? LEAFY));
    const leafy = contrast.map((c) => ramp(c, usual / 2, usual));
    const { coherence: ruling } = structureOf(mean, width, height, Math.max(STRAIGHT_FOR, radius));
    const edges = stillEdges(mean, energy, noise, slope, width, height);
    const map = Uint8Array.from(moves, (much, i) =>
      edges[i] === 1 ? 0 : 255 * ramp(much * Math.sqrt(leafy[i]!), ...SWAYS_FROM),
    );
    dropSpecks(map, width, height);
    let [swaying, still] = [0, 0];
    for (let i = 0; i < pixels; i++) {
      if (map[i]! >= SWAYS) swaying++;
      else if (contrast[i]! > LEAFY) still++;
    }
    const share = swaying / pixels;
    const found = share >= LEAST_FOLIAGE;
    if (!found) map.fill(0);
    const whole = (part: Uint8Array) => luminance(part, 1, width, height, this.width, this.height).slice();
    return {
      map: whole(smooth(map, width, height, 1)),
      share: found ? share : 0,
      still: still / pixels,
      noise,
      unsure: still / pixels > MUCH_LEAFY && still > swaying,
      edges: whole(edges.map((is) => 255 * is)),
      straight: whole(edges.map((is, i) => (is === 1 && ruling[i]! > STRAIGHT ? 255 : 0))),
      steady: whole(steadiness(moves, noise, slope, width, height, radius)),
    };
  }

  #endRun(): void {
    if (this.#pairs === 0) return;
    const changes = this.#changes.slice(0, this.#pairs);
    this.#runs.push(medianOf(changes, (d) => d * d * NORMAL_MEDIAN));
    this.#pairs = 0;
  }
}

/** Takes out what is smaller than a clump of leaves. */
function dropSpecks(map: Uint8Array, width: number, height: number): void {
  const any = map.map((value) => (value > 0 ? 1 : 0));
  for (const clump of regions(any, width, height)) {
    const sways = clump.reduce((n, i) => n + (map[i]! >= SWAYS ? 1 : 0), 0);
    if (sways < LEAST_CLUMP * width * height) for (const i of clump) map[i] = 0;
  }
}

/** How surely each place moves, 0..1. */
function movement(
  energy: Float32Array,
  noise: Float32Array,
  slope: Float32Array,
  width: number,
  height: number,
  radius: number,
): Float32Array {
  const [changed, floor, sloped] = [energy, noise, slope].map((part) =>
    boxMean(part, width, height, radius),
  ) as [Float32Array, Float32Array, Float32Array];
  return changed.map((all, i) => {
    const more = all - floor[i]!;
    if (more < LEAST_CHANGE) return 0;
    // Motion in any direction meets a slope's own direction with half its energy.
    const shift = (1000 / width) * Math.sqrt((2 * more) / Math.max(1, sloped[i]!));
    return Math.min(ramp(shift, ...MOVES), ramp(more / Math.max(0.25, floor[i]!), ...OVER_NOISE));
  });
}

/** How surely each place stands still, 0..255: it has slope enough for leaves in wind to show, and nothing did. */
function steadiness(
  moves: Float32Array,
  noise: Float32Array,
  slope: Float32Array,
  width: number,
  height: number,
  radius: number,
): Uint8Array {
  const [floor, sloped] = [noise, slope].map((part) => boxMean(part, width, height, radius)) as [
    Float32Array,
    Float32Array,
  ];
  const shift = (IN_WIND * width) / 1000;
  return Uint8Array.from(moves, (much, i) =>
    (sloped[i]! * shift * shift) / 2 < Math.max(LEAST_CHANGE, OVER_NOISE[1] * floor[i]!)
      ? 0
      : 255 * (1 - ramp(much, ...SWAYS_FROM)),
  );
}

/** The lower middle of each pixel's values, turned into what `of` makes of them. */
function medianOf(
  series: readonly (Float32Array | Int16Array)[],
  of: (value: number) => number,
): Float32Array {
  const middle = (series.length - 1) >> 1;
  const values = new Float32Array(series.length);
  return Float32Array.from({ length: series[0]!.length }, (_, i) => {
    for (let r = 0; r < series.length; r++) {
      const value = of(series[r]![i]!);
      let at = r;
      for (; at > 0 && values[at - 1]! > value; at--) values[at] = values[at - 1]!;
      values[at] = value;
    }
    return values[middle]!;
  });
}

/** How two frames differ as a whole: the middle difference. */
function middleDifference(now: Uint8Array, before: Uint8Array): number {
  const counts = new Uint32Array(511);
  for (let i = 0; i < now.length; i++) counts[now[i]! - before[i]! + 255]!++;
  let below = 0;
  for (let i = 0; i < counts.length; i++) {
    below += counts[i]!;
    if (2 * below >= now.length) return i - 255;
  }
  return 0;
}

/** A low quarter of the values of those places that certainly move; undefined where too few do. */
function usualWhere(values: Float32Array, moving: Float32Array): number | undefined {
  const there = values.filter((_, i) => moving[i]! > 0.9).sort();
  return there.length < values.length / 200 ? undefined : there[there.length >> 2];
}

function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}
