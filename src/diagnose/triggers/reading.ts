import { busyFor } from '../../camera/timing.js';
import { createReference, memoryOf, type Reference } from '../../engine/reference.js';
import { changedRegion, largestRegion, type Region } from '../../engine/region.js';
import { smooth } from '../../engine/smooth.js';
import { TIME_TOLERANCE } from '../../engine/triggers.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { Around, framesAround } from './around.js';
import type { Look } from './look.js';

/** What a reading needs to know of a case. */
export type Watched = Pick<
  ReplayedClip,
  'camera' | 'settings' | 'mask' | 'level' | 'indices' | 'times' | 'fired'
>;

/** Frames as luminance at the analysis size, by their rising indices in the clip; may be the same array every time. */
export type FrameSource = (indices: Uint32Array) => AsyncIterable<Uint8Array> | Iterable<Uint8Array>;

/** What one reading of a clip shows while it goes by. */
export interface Seen {
  /** Every analysed frame of `wanted`, in order, with its difference; the same array every time. */
  onFrame?: (place: number, difference: Uint8Array) => Promise<void> | void;
  /** What fired, for every trigger, in order; the difference is the same array every time. */
  onTrigger: (trigger: number, region: Region, difference: Uint8Array) => void;
  /** Every trigger of `looked`, with what surrounds it; its frames are written over afterwards. */
  onLook: (trigger: number, look: Look) => void;
}

export interface ReadingPlan {
  /** Triggers to be looked around, by their places in `fired`, rising. */
  looked: readonly number[];
  /** Analysed frames whose differences are wanted besides, rising. */
  wanted: ArrayLike<number>;
}

/**
 * Reads the frames of a clip that a diagnosis needs, once: those around its triggers and those whose differences are
 * wanted. Only as many are held as lie around one trigger.
 */
export async function readAround(
  replayed: Watched,
  plan: ReadingPlan,
  seen: Seen,
  source: FrameSource,
  onProgress?: (done: number, total: number) => void,
): Promise<void> {
  const { camera, level } = replayed;
  const { width, height } = camera.analysis;
  const reach = framesAround(replayed);
  const places = placesNeeded(replayed, plan, reach);
  const triggerAt = new Map(replayed.fired.map((place, trigger) => [place, trigger]));
  const lookedAt = new Set(plan.looked);
  const wanted = new Set(Array.from(plan.wanted));
  const differences = new Differences(replayed);
  const around = new Around(reach, seen.onLook);
  const find = camera.area === 'changed' ? changedRegion : largestRegion;

  let done = 0;
  const indices = Uint32Array.from(places, (place) => replayed.indices[place]!);
  for await (const y of source(indices)) {
    const place = places[done++]!;
    const difference = differences.next(y, place);
    const trigger = triggerAt.get(place);
    if (difference && wanted.has(place)) await seen.onFrame?.(place, difference);
    around.take(place, replayed.times[place]!, differences.smoothed);
    if (difference && trigger !== undefined) {
      const region = find(difference, width, height, level);
      seen.onTrigger(trigger, region, difference);
      if (lookedAt.has(trigger)) {
        const lag = memoryOf(camera.reference).nearest;
        const reference = differences.reference;
        const look = { width, height, level, lag, reference, difference: difference.slice(), region };
        around.lookAround(trigger, look);
      }
    }
    around.settle();
    onProgress?.(done, places.length);
  }
  around.end();
}

/** Analysed frames to read, rising: all that the reference, the surroundings of triggers and the wanted frames need. */
function placesNeeded(replayed: Watched, { looked, wanted }: ReadingPlan, reach: number): number[] {
  const count = replayed.times.length;
  const needed = new Uint8Array(count);
  const { reference } = replayed.camera;
  const from = memoryOf(reference).frames;
  const mark = (low: number, high: number) => needed.fill(1, Math.max(0, low), Math.min(count, high + 1));
  for (const place of replayed.fired) mark(place - from, place);
  for (let i = 0; i < wanted.length; i++) mark(wanted[i]! - from, wanted[i]!);
  for (const trigger of looked) {
    const place = replayed.fired[trigger]!;
    mark(place - reach - from, place + reach);
  }
  // A reference that has been moved by triggers follows from the first frame on.
  if (reference.whileBusy !== 'continues') mark(0, needed.lastIndexOf(1));
  return Array.from(needed.keys()).filter((k) => needed[k] === 1);
}

/** Smooths and differences frames as the camera does, given when it fired. */
class Differences {
  readonly smoothed: Uint8Array;
  private readonly difference: Uint8Array;
  private readonly source: Reference;
  private readonly fired: ReadonlySet<number>;
  private readonly busy: number;
  private compared: Uint8Array | Float32Array = new Uint8Array(0);
  private idleAt = Number.NEGATIVE_INFINITY;
  private restartPending = false;
  private lastPlace = -1;
  private lastTime = 0;

  constructor(private readonly replayed: Watched) {
    const { width, height } = replayed.camera.analysis;
    this.smoothed = new Uint8Array(width * height);
    this.difference = new Uint8Array(width * height);
    this.source = createReference(replayed.camera.reference, width * height);
    this.fired = new Set(replayed.fired);
    this.busy = busyFor(replayed.camera, replayed.settings.cooldown);
  }

  /** What the last frame was compared with. */
  get reference(): ArrayLike<number> {
    return this.compared;
  }

  /** The difference of the next frame; null while a camera whose reference waits is busy. */
  next(y: Uint8Array, place: number): Uint8Array | null {
    const { camera, mask, times } = this.replayed;
    const { width, height, smooth: radius } = camera.analysis;
    const { whileBusy } = camera.reference;
    const follows = whileBusy === 'continues';
    const time = times[place]!;
    smooth(y, width, height, radius, this.smoothed);
    if (follows && place !== this.lastPlace + 1) this.source.restart();
    const elapsed = time - this.lastTime;
    this.lastPlace = place;
    this.lastTime = time;
    if (!follows && time < this.idleAt - TIME_TOLERANCE) return null;
    if (this.restartPending) this.source.restart();
    this.restartPending = false;
    this.source.difference(this.smoothed, mask, this.difference);
    const fires = this.fired.has(place);
    if (fires) {
      this.compared = this.source.image() ?? this.smoothed.slice();
      this.idleAt = time + this.busy;
      this.restartPending = whileBusy === 'restarts';
    }
    if (follows || !fires) this.source.advance(this.smoothed, elapsed);
    return this.difference;
  }
}
