import { createReference, type Reference, type ReferenceModel } from './reference.js';
import { smooth } from './smooth.js';

/** The fixed part of a camera as far as differences depend on it; sizes in pixels, `smooth` a box radius. */
export interface DifferencerOptions {
  readonly width: number;
  readonly height: number;
  readonly smooth: number;
  readonly reference: ReferenceModel;
  /** `width * height` bytes, not 0 where not watched. */
  readonly mask: Uint8Array | null;
}

/** Frames in, differences out, for a camera whose reference goes on whatever it photographs. */
export class Differencer {
  private readonly smoothed: Uint8Array;
  private readonly difference: Uint8Array;
  private readonly reference: Reference;
  /** The frame differed last, smoothed. */
  private frame: Uint8Array;
  private last = 0;

  constructor(private readonly options: DifferencerOptions) {
    const pixels = options.width * options.height;
    this.smoothed = new Uint8Array(pixels);
    this.frame = this.smoothed;
    this.difference = new Uint8Array(pixels);
    this.reference = createReference(options.reference, pixels);
  }

  /**
   * The difference of the next frame from the reference, which then takes the frame in.
   *
   * @param y luminance at the analysis size, not yet smoothed
   * @param time seconds from the clip's start
   * @returns `width * height` bytes, overwritten by the next call
   */
  next(y: Uint8Array, time: number): Uint8Array {
    this.differ(y);
    this.advance(time);
    return this.difference;
  }

  /** The difference alone, as `next` gives it; `advance` must follow before the next frame. */
  differ(y: Uint8Array): Uint8Array {
    const { width, height, smooth: radius, mask } = this.options;
    this.frame = radius === 0 ? y : smooth(y, width, height, radius, this.smoothed);
    this.reference.difference(this.frame, mask, this.difference);
    return this.difference;
  }

  /** Lets the reference take in the frame that was differed last. */
  advance(time: number): void {
    this.reference.advance(this.frame, time - this.last);
    this.last = time;
  }

  /** The frame that was differed last, smoothed; overwritten with the next. */
  get seen(): Uint8Array {
    return this.frame;
  }

  /** A copy of what the next frame is compared with, or, until `advance`, the last was: the first frame with itself. */
  compared(): Uint8Array | Float32Array {
    return this.reference.image() ?? this.frame.slice();
  }

  /** Bytes from which `load` resumes after the last frame exactly, on a machine of the same byte order. */
  save(): Uint8Array {
    const reference = this.reference.save();
    const state = new Uint8Array(8 + reference.length);
    state.set(new Uint8Array(Float64Array.of(this.last).buffer));
    state.set(reference, 8);
    return state;
  }

  /** @throws RangeError when the bytes are not what `save` with equal options gives */
  load(state: Uint8Array): void {
    if (state.length < 8) throw new RangeError(`A saved state of ${state.length} bytes is too short.`);
    this.reference.load(state.subarray(8));
    this.last = new Float64Array(state.slice(0, 8).buffer)[0]!;
  }
}
