import { luminance } from '../../engine/luminance.js';

/** Grey levels above which pixels are counted, as they are and in the picture four times as coarse. */
const FINE = [6, 9, 13, 19, 28, 40] as const;
const COARSE = [3, 5, 8, 12, 18] as const;
/** Frames back to which each is held: from one to the next, and farther, by which quick motion is told from slow. */
const LAGS = [1, 2] as const;
/** From here on a pixel counts as foliage. */
const COUNTED = 128;
/** How much more one ratio of farther to nearer pairs weighs than one share: the rhythm shows in nothing else. */
const RHYTHM = 3;
/** Shares are compared in logarithms, with so much added to each: less is chance. */
const LEAST = 2e-3;

/**
 * How much of the foliage changes from frame to frame, as a camera's evidence sees it: the share of its pixels that change
 * by more than several levels. The coarse picture tells how far what moves goes, for it blurs what is smaller; the pairs
 * of frames farther apart tell how often it comes and goes. No leaf is followed, so that leaves may go farther than they
 * are wide.
 */
export class UnrestMeter {
  readonly #fine: Scale;
  readonly #coarse: Scale;

  /** @param foliage `width * height` bytes, as in Setup */
  constructor(
    readonly width: number,
    readonly height: number,
    foliage: Uint8Array,
  ) {
    this.#fine = new Scale(foliage, FINE);
    this.#coarse = new Scale(this.#reduced(foliage), COARSE);
  }

  /** The next frame does not follow on from the last one. */
  restart(): void {
    this.#fine.restart();
    this.#coarse.restart();
  }

  /** @param y luminance, `width * height` bytes */
  see(y: Uint8Array): void {
    this.#fine.see(y);
    this.#coarse.see(this.#reduced(y));
  }

  /** Logarithms of the shares, in an order of their own, and by how much those of farther pairs are larger, with more weight. */
  measure(): Float64Array {
    return Float64Array.from(
      [this.#fine, this.#coarse].flatMap((scale) => {
        const shares = scale.shares().map((share) => Math.log(share + LEAST));
        const half = shares.length / LAGS.length;
        const slower = shares.reduce((sum, share, i) => sum + (i < half ? -share : share), 0) / half;
        return [...shares, RHYTHM * slower];
      }),
    );
  }

  /** Share of the foliage's pixels that changed by more than 13 levels from one frame to the next. */
  changed(): number {
    return this.#fine.shares()[FINE.indexOf(13)]!;
  }

  /** Four times as coarse, by halves: halving is quick. */
  #reduced(y: Uint8Array): Uint8Array {
    const { width, height } = this;
    const half = (side: number) => Math.max(1, side >> 1);
    const [w, h] = [half(width), half(height)];
    return luminance(luminance(y, 1, width, height, w, h), 1, w, h, half(w), half(h));
  }
}

/** The changes of a picture at one size. */
class Scale {
  readonly #counted: Uint32Array;
  readonly #levels: readonly number[];
  /** For each lag: how many pixels changed by each number of levels. */
  readonly #changes = LAGS.map(() => new Uint32Array(256));
  #past: Uint8Array[] = [];

  constructor(foliage: Uint8Array, levels: readonly number[]) {
    this.#counted = countedIn(foliage);
    this.#levels = levels;
  }

  restart(): void {
    this.#past = [];
  }

  see(y: Uint8Array): void {
    LAGS.forEach((lag, n) => {
      const before = this.#past[lag - 1];
      if (!before) return;
      count(y, before, this.#counted, this.#changes[n]!);
    });
    this.#past = [y.slice(), ...this.#past].slice(0, Math.max(...LAGS));
  }

  shares(): number[] {
    return this.#changes.flatMap((changes) => {
      // Foliage in shreds is gone from the coarse picture: of nothing, nothing changes.
      const all = Math.max(
        1,
        changes.reduce((sum, n) => sum + n, 0),
      );
      return this.#levels.map((level) => changes.subarray(level + 1).reduce((sum, n) => sum + n, 0) / all);
    });
  }
}

/** Places of foliage. */
function countedIn(foliage: Uint8Array): Uint32Array {
  const places = new Uint32Array(foliage.length);
  let n = 0;
  for (let i = 0; i < foliage.length; i++) if (foliage[i]! >= COUNTED) places[n++] = i;
  return places.slice(0, n);
}

/** By index: `for of` makes an object of every pixel, and this runs over all of them for each trial of a fit. */
function count(y: Uint8Array, before: Uint8Array, places: Uint32Array, changes: Uint32Array): void {
  for (let n = 0; n < places.length; n++) {
    const i = places[n]!;
    changes[Math.abs(y[i]! - before[i]!)]!++;
  }
}
