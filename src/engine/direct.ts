import { Pieces } from './pieces.js';
import { createReference, type Reference, type ReferenceModel } from './reference.js';
import { changedPixels } from './region.js';
import { smooth } from './smooth.js';
import { isActive, levelOf, TriggerMachine } from './triggers.js';

/** A camera with its settings; sizes and areas in pixels at the analysis size, times in seconds. */
export interface DirectOptions {
  readonly width: number;
  readonly height: number;
  /** Box radius in pixels. */
  readonly smooth: number;
  readonly reference: ReferenceModel;
  /** What the reference does from a trigger until the camera is idle again. */
  readonly whileBusy: 'continues' | 'frozen' | 'restarts';
  readonly area: 'region' | 'changed';
  /** `width * height` bytes, not 0 where not watched. */
  readonly mask: Uint8Array | null;
  readonly threshold: number;
  readonly minimumArea: number;
  readonly mostChanged: number;
  readonly persistence: number;
  readonly busy: number;
}

/**
 * One camera under one setting, frame by frame. It serves cameras whose reference depends on their triggers, and is
 * what the evidence path is compared with: it measures areas in its own way.
 */
export class DirectReplay {
  private readonly smoothed: Uint8Array;
  private readonly difference: Uint8Array;
  private readonly reference: Reference;
  private readonly pieces: Pieces;
  private readonly machine: TriggerMachine;
  private readonly level: number;
  private restartPending = false;
  private lastTime = 0;
  private area = 0;
  private counted = false;

  constructor(private readonly options: DirectOptions) {
    const pixels = options.width * options.height;
    this.smoothed = new Uint8Array(pixels);
    this.difference = new Uint8Array(pixels);
    this.reference = createReference(options.reference, pixels);
    this.pieces = new Pieces(options.width, options.height);
    this.machine = new TriggerMachine(options.persistence, options.busy);
    this.level = levelOf(options.threshold);
  }

  /** The area of the last frame that counted, in pixels; frames while busy are not measured. */
  get lastArea(): number {
    return this.area;
  }

  /** The difference of the last frame, overwritten by the next; null where the camera was busy and did not look. */
  get lastDifference(): Uint8Array | null {
    return this.counted ? this.difference : null;
  }

  /**
   * Takes the next frame and says whether it fires.
   *
   * @param y luminance at the analysis size, not yet smoothed
   * @param time seconds from the clip's start
   */
  step(y: Uint8Array, time: number): boolean {
    const elapsed = time - this.lastTime;
    this.lastTime = time;
    const follows = this.options.whileBusy === 'continues';
    this.counted = !this.machine.isBusy(time);
    if (!this.counted) {
      if (follows) this.reference.advance(this.smooth(y), elapsed);
      return false;
    }
    if (this.restartPending) this.reference.restart();
    this.restartPending = false;
    const smoothed = this.smooth(y);
    this.reference.difference(smoothed, this.options.mask, this.difference);
    const fired = this.machine.step(time, this.measure());
    if (fired && this.options.whileBusy === 'restarts') this.restartPending = true;
    // The frame that fires already belongs to the time in which the reference does not follow the scene.
    if (follows || !fired) this.reference.advance(smoothed, elapsed);
    return fired;
  }

  private smooth(y: Uint8Array): Uint8Array {
    const { width, height, smooth: radius } = this.options;
    return radius === 0 ? y : smooth(y, width, height, radius, this.smoothed);
  }

  private measure(): boolean {
    const { area, minimumArea, mostChanged } = this.options;
    const changed = changedPixels(this.difference, this.level);
    this.area = area === 'changed' ? changed : this.pieces.largest(this.difference, this.level);
    return isActive(this.area, changed, minimumArea, mostChanged);
  }
}
