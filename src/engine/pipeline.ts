import { createReference, type Reference, type ReferenceModel } from './reference.js';
import { smooth } from './smooth.js';
import { TIME_TOLERANCE } from './triggers.js';

/** A camera's busy times where they are known beforehand, and what its reference does in them. */
export interface KnownBusy {
  readonly whileBusy: 'frozen' | 'restarts';
  /** For each trigger its time, that of a frame, and until when it was busy; seconds, rising, one after the other. */
  readonly stretches: readonly (readonly [trigger: number, until: number])[];
}

/** The fixed part of a camera as far as differences depend on it; sizes in pixels, `smooth` a box radius. */
export interface DifferencerOptions {
  readonly width: number;
  readonly height: number;
  readonly smooth: number;
  readonly reference: ReferenceModel;
  /** `width * height` bytes, not 0 where not watched. */
  readonly mask: Uint8Array | null;
  /** Left out: the reference goes on whatever is photographed. */
  readonly knownBusy?: KnownBusy;
}

type Doing = 'watches' | 'fires' | 'busy';

/**
 * Frames in, differences out, for a camera whose reference goes on whatever it photographs, or of which is known when it was
 * busy: frames in a busy time differ in nothing.
 */
export class Differencer {
  private readonly smoothed: Uint8Array;
  private readonly difference: Uint8Array;
  private readonly reference: Reference;
  /** The frame differed last, smoothed. */
  private frame: Uint8Array;
  private last = 0;
  /** The first busy stretch that has not ended. */
  private stretch = 0;
  /** At the frame differed last. */
  private doing: Doing = 'watches';

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
    this.differ(y, time);
    this.advance(time);
    return this.difference;
  }

  /**
   * The difference alone, as `next` gives it; `advance` must follow before the next frame.
   * @param smoothed the frame as `smooth` gives it, where several share that; it must stay until `advance`
   */
  differ(y: Uint8Array, time: number, smoothed?: Uint8Array): Uint8Array {
    const { width, height, smooth: radius, mask, knownBusy } = this.options;
    this.doing = knownBusy ? this.doingAt(knownBusy, time) : 'watches';
    if (this.doing === 'busy') return this.difference.fill(0);
    this.frame = smoothed ?? (radius === 0 ? y : smooth(y, width, height, radius, this.smoothed));
    this.reference.difference(this.frame, mask, this.difference);
    return this.difference;
  }

  /** Lets the reference take in the frame that was differed last. */
  advance(time: number): void {
    // As a camera does by itself: the frame that fires already belongs to the busy time.
    if (this.doing === 'watches') this.reference.advance(this.frame, time - this.last);
    this.last = time;
  }

  /** What the camera does at a frame; starts the reference anew where it comes out of a busy time that asks for that. */
  private doingAt({ whileBusy, stretches }: KnownBusy, time: number): Doing {
    while (this.stretch < stretches.length && stretches[this.stretch]![1] <= time + TIME_TOLERANCE)
      this.stretch++;
    const next = stretches[this.stretch];
    const fires = next !== undefined && Math.abs(time - next[0]) <= TIME_TOLERANCE;
    if (next !== undefined && !fires && time > next[0]) return 'busy';
    const before = stretches[this.stretch - 1];
    const wasBusy = before !== undefined && this.last >= before[0] - TIME_TOLERANCE;
    if (whileBusy === 'restarts' && wasBusy && this.last < before[1] - TIME_TOLERANCE)
      this.reference.restart();
    return fires ? 'fires' : 'watches';
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
