import type { Clip } from '../../clip/open.js';
import type { Size } from '../../weather/averaging.js';

/** Clips of which frames are held at most; a sample is asked for soon after its clip was read, or never. */
const MOST_CLIPS = 4;

interface Passed {
  clip: Clip;
  size: Size;
  /** By their indices in the clip. */
  frames: Map<number, Uint8Array>;
}

/** The latest last. */
const passed: Passed[] = [];

/**
 * Holds some frames of a clip while it is read for something else, so that they need not be read again.
 * @param wanted indices in the clip
 * @returns to be given the frames of that reading, by their indices
 */
export function holdPassing(
  clip: Clip,
  size: Size,
  wanted: readonly number[],
): (index: number, y: Uint8Array) => void {
  const all = new Set(wanted);
  const frames = new Map<number, Uint8Array>();
  letGo(clip);
  passed.push({ clip, size, frames });
  if (passed.length > MOST_CLIPS) passed.shift();
  return (index, y) => {
    if (all.has(index)) frames.set(index, y.slice());
  };
}

/** Frames that passed by, in the order asked for; null where any of them did not, or at another size. */
export function passedFrames(clip: Clip, size: Size, indices: readonly number[]): Uint8Array[] | null {
  const held = passed.find((one) => one.clip.source === clip.source);
  if (held?.size.width !== size.width || held.size.height !== size.height) return null;
  const frames = indices.flatMap((index) => held.frames.get(index) ?? []);
  return frames.length === indices.length ? frames : null;
}

/** Holds nothing of a clip any more. */
export function letGo(clip: Clip): void {
  const place = passed.findIndex((one) => one.clip.source === clip.source);
  if (place >= 0) passed.splice(place, 1);
}
