import { TIME_TOLERANCE } from './triggers.js';

/** Rates closer than this, relative to the clip's, count as equal. */
const RATE_TOLERANCE = 1e-9;

/**
 * The indices of the frames that a camera analysing at `rate` frames per second sees of a clip.
 *
 * For each instant 0, 1/rate, 2/rate, ... before the clip's end it is the nearest frame, the earlier of two equally
 * near, none twice. A camera as fast as the clip or faster sees every frame.
 *
 * @param times seconds from the clip's start, rising
 * @param length the clip's length in seconds
 * @param clipRate the clip's frames per second (the mean rate, gaps left out, when its times are uneven)
 */
export function sampleFrames(
  times: ArrayLike<number>,
  length: number,
  clipRate: number,
  rate: number,
): Uint32Array {
  if (rate >= clipRate * (1 - RATE_TOLERANCE)) return Uint32Array.from({ length: times.length }, (_, k) => k);
  const taken: number[] = [];
  let k = 0;
  let j = 0;
  while (j / rate < length - TIME_TOLERANCE) {
    const instant = j / rate;
    while (k + 1 < times.length && instant - times[k]! > times[k + 1]! - instant + TIME_TOLERANCE) k++;
    if (taken.at(-1) !== k) taken.push(k);
    if (k + 1 === times.length) break;
    // All instants but the last two before the next frame is the nearer one take this frame again.
    const nearer = Math.floor(((times[k]! + times[k + 1]!) / 2) * rate);
    j = Math.max(j + 1, nearer - 1);
  }
  return Uint32Array.from(taken);
}
