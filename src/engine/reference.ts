import { arithmetic } from './compiled/arithmetic.js';
import { isAligned, wordsOf } from './words.js';

/** What a frame is compared with: the frame `lag` frames back, or a running average that forgets in `seconds`. */
export type ReferenceModel =
  | { readonly kind: 'previous'; readonly lag: number }
  | { readonly kind: 'average'; readonly seconds: number };

/**
 * What a frame is compared with, and how that follows the scene. Frames are smoothed luminance.
 *
 * A caller that wants it to stand still does not call `advance`.
 */
export interface Reference {
  /**
   * Writes |frame - reference| into `out`, rounded to nearest, halves up; 0 where `mask` is not 0, and 0
   * everywhere while no frame has been taken in.
   */
  difference(y: Uint8Array, mask: Uint8Array | null, out: Uint8Array): void;
  /** Takes a frame in, `elapsed` seconds after the frame before it (ignored for the first). */
  advance(y: Uint8Array, elapsed: number): void;
  /** Forgets every frame: the next one taken in is the first. */
  restart(): void;
  /** A copy of what the next frame is compared with, in grey levels; null while no frame has been taken in. */
  image(): Uint8Array | Float32Array | null;
  /** Bytes from which `load` restores this state exactly, on a machine of the same byte order. */
  save(): Uint8Array;
  /** @throws RangeError when the bytes are not what `save` of an equal model and frame size gives */
  load(state: Uint8Array): void;
}

/**
 * @param pixels pixels of a frame
 * @throws RangeError for a kind that is none of these
 */
export function createReference(model: ReferenceModel, pixels: number): Reference {
  switch (model.kind) {
    case 'previous':
      return new PreviousFrame(model.lag, pixels);
    case 'average':
      return new RunningAverage(model.seconds, pixels);
    default:
      throw unknown(model);
  }
}

/** How far back a reference looks: what must be known to read a clip in part, or to cut it into parts. */
export interface Memory {
  /** Frames further back than this have no part in it, so that a reading may be entered so many early; Infinity: all have. */
  readonly frames: number;
  /** Seconds in which a frame's part in it falls to 1/e; Infinity where it does not fade. */
  readonly seconds: number;
  /** How many frames back the nearest one lies that a change can be measured against. */
  readonly nearest: number;
  /** Whether it depends on when frames were taken, not only on their order. */
  readonly timed: boolean;
}

/** @throws RangeError for a kind that is none of these */
export function memoryOf(model: ReferenceModel): Memory {
  const forever = Number.POSITIVE_INFINITY;
  switch (model.kind) {
    case 'previous':
      return { frames: model.lag, seconds: forever, nearest: model.lag, timed: false };
    case 'average':
      return { frames: forever, seconds: model.seconds, nearest: 1, timed: true };
    default:
      throw unknown(model);
  }
}

/** The frame `lag` frames back; the first frame until there is one that old. */
class PreviousFrame implements Reference {
  /** The last frames taken in, oldest first; at most `lag`. */
  private history: Uint8Array[] = [];

  constructor(
    private readonly lag: number,
    private readonly pixels: number,
  ) {}

  difference(y: Uint8Array, mask: Uint8Array | null, out: Uint8Array): void {
    const past = this.history[0];
    if (past === undefined) {
      out.fill(0);
      return;
    }
    const vectors = arithmetic();
    if (vectors) vectors.difference(y, past, out);
    else absoluteDifference(y, past, out);
    if (mask !== null) clear(out, mask);
  }

  advance(y: Uint8Array): void {
    const kept = this.history.length < this.lag ? new Uint8Array(this.pixels) : this.history.shift()!;
    kept.set(y);
    this.history.push(kept);
  }

  restart(): void {
    this.history = [];
  }

  image(): Uint8Array | null {
    return this.history[0]?.slice() ?? null;
  }

  save(): Uint8Array {
    const state = new Uint8Array(this.history.length * this.pixels);
    this.history.forEach((frame, i) => {
      state.set(frame, i * this.pixels);
    });
    return state;
  }

  load(state: Uint8Array): void {
    const frames = state.length / this.pixels;
    if (!Number.isInteger(frames) || frames > this.lag) throw unlike(state, `at most ${this.lag} frames`);
    this.history = Array.from({ length: frames }, (_, i) =>
      state.slice(i * this.pixels, (i + 1) * this.pixels),
    );
  }
}

/**
 * An exponential average over time: after each frame it moves towards it by 1 - exp(-elapsed / seconds), so that
 * uneven frame times weigh as they should. Kept as 32-bit floats.
 */
class RunningAverage implements Reference {
  private readonly mean: Float32Array;
  private started = false;

  constructor(
    private readonly seconds: number,
    pixels: number,
  ) {
    this.mean = new Float32Array(pixels);
  }

  difference(y: Uint8Array, mask: Uint8Array | null, out: Uint8Array): void {
    if (!this.started) {
      out.fill(0);
      return;
    }
    const mean = this.mean;
    for (let i = 0; i < out.length; i++) out[i] = Math.abs(y[i]! - mean[i]!) + 0.5;
    if (mask !== null) clear(out, mask);
  }

  advance(y: Uint8Array, elapsed: number): void {
    const mean = this.mean;
    if (!this.started) {
      this.started = true;
      mean.set(y);
      return;
    }
    const part = 1 - Math.exp(-elapsed / this.seconds);
    for (let i = 0; i < mean.length; i++) {
      const value = mean[i]!;
      mean[i] = value + (y[i]! - value) * part;
    }
  }

  restart(): void {
    this.started = false;
  }

  image(): Float32Array | null {
    return this.started ? this.mean.slice() : null;
  }

  save(): Uint8Array {
    return this.started ? new Uint8Array(this.mean.buffer.slice(0)) : new Uint8Array(0);
  }

  load(state: Uint8Array): void {
    if (state.length !== 0 && state.length !== this.mean.byteLength) throw unlike(state, 'one float a pixel');
    this.started = state.length > 0;
    new Uint8Array(this.mean.buffer).set(state);
  }
}

/** |a - b| of every pixel in JavaScript, where there is no WebAssembly; four at a time where all three begin at a word. */
export function absoluteDifference(a: Uint8Array, b: Uint8Array, out: Uint8Array): void {
  let i = 0;
  if (isAligned(a) && isAligned(b) && isAligned(out)) {
    const [as, bs, outs] = [wordsOf(a), wordsOf(b), wordsOf(out)];
    for (let word = 0; word < outs.length; word++) {
      const p = as[word]!;
      const q = bs[word]!;
      outs[word] = p === q ? 0 : everyOther(p, q) | (everyOther(p >>> 8, q >>> 8) << 8);
    }
    i = 4 * outs.length;
  }
  for (; i < out.length; i++) out[i] = Math.abs(a[i]! - b[i]!);
}

/** |p - q| of the first and third byte of two words, each with 16 bits to itself. */
function everyOther(p: number, q: number): number {
  // 256 more than the difference: the bit above the byte is left where it is 0 or more.
  const raised = ((p & 0x00ff00ff) | 0x01000100) - (q & 0x00ff00ff);
  const below = ~(raised >>> 8) & 0x00010001;
  // Where it is less, the byte is turned round: its bits, and one more.
  return ((raised & 0x00ff00ff) ^ ((below << 8) - below)) + below;
}

function clear(out: Uint8Array, mask: Uint8Array): void {
  for (let i = 0; i < out.length; i++) if (mask[i] !== 0) out[i] = 0;
}

function unlike(state: Uint8Array, expected: string): RangeError {
  return new RangeError(`A reference's saved state of ${state.length} bytes is not ${expected}.`);
}

/** Types rule it out, but not for a model that comes from a file unchecked. */
function unknown(model: never): RangeError {
  return new RangeError(`There is no reference of the kind '${(model as ReferenceModel).kind}'.`);
}
