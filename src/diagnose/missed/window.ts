import { busyFor, photosFor } from '../../camera/timing.js';
import { isActive, TIME_TOLERANCE } from '../../engine/triggers.js';
import { holds, type Stretch } from '../../score/stretches.js';
import { firstAt } from '../../sweep/march.js';
import type { ReplayedClip } from '../replayed-clip.js';

/** The analysed frames that matter to one visit. */
export interface Window extends Stretch {
  /** Frames at which a trigger would have put a photo into the visit, rising. */
  catching: readonly number[];
  /** Frames while it was in view, rising. */
  inView: readonly number[];
}

/** @param stretch the visit, seconds from the clip's start */
export function windowOf(
  { camera, times }: Pick<ReplayedClip, 'camera' | 'times'>,
  stretch: Stretch,
): Window {
  const offsets = photosFor(camera, 0);
  const from = firstAt(times, stretch.start - Math.max(...offsets) - 2 * TIME_TOLERANCE, 0);
  const catching: number[] = [];
  const inView: number[] = [];
  for (let k = from; k < times.length && times[k]! <= stretch.end + TIME_TOLERANCE; k++) {
    const time = times[k]!;
    if (holds(stretch, time)) inView.push(k);
    if (photosFor(camera, time).some((photo) => holds(stretch, photo))) catching.push(k);
  }
  return { ...stretch, catching, inView };
}

/** How much changed in every frame at the settings' threshold. */
export interface Seen {
  area: Uint32Array;
  changed: Uint32Array;
  /** For each frame the number of active frames in a row that end with it, whether the camera was busy or not. */
  run: Uint32Array;
}

/** What a camera with these settings sees in frames of given areas. */
export function seenIn(area: Uint32Array, changed: Uint32Array, { settings }: ReplayedClip): Seen {
  const { minimumArea, mostChanged } = settings;
  const run = new Uint32Array(area.length);
  for (let k = 0, active = 0; k < area.length; k++) {
    active = isActive(area[k]!, changed[k]!, minimumArea, mostChanged) ? active + 1 : 0;
    run[k] = active;
  }
  return { area, changed, run };
}

/** The place among a case's triggers of the last one before a frame, -1 where there is none. */
export function lastTriggerBefore(fired: readonly number[], frame: number): number {
  let low = 0;
  let high = fired.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (fired[middle]! < frame) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** From when on the camera could count frames again after a trigger, by its place; seconds. */
export function idleFrom({ camera, settings, times, fired }: ReplayedClip, trigger: number): number {
  const frame = fired[trigger];
  if (frame === undefined) return Number.NEGATIVE_INFINITY;
  return times[frame]! + busyFor(camera, settings.cooldown);
}

/** Whether nothing but the frames themselves kept the camera from firing at one: it had time to count enough of them. */
export function couldFire(replayed: ReplayedClip, frame: number): boolean {
  const trigger = lastTriggerBefore(replayed.fired, frame);
  const first = frame - replayed.settings.persistence + 1;
  return first > (replayed.fired[trigger] ?? -1) && !isBusy(replayed, first, trigger);
}

/** Whether a frame fell into the busy time of a trigger, by its place. */
export function isBusy(
  replayed: ReplayedClip,
  frame: number,
  trigger = lastTriggerBefore(replayed.fired, frame),
): boolean {
  return replayed.times[frame]! < idleFrom(replayed, trigger) - TIME_TOLERANCE;
}
