import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import { sampleFrames } from '../engine/sample.js';

/** The frames of a clip that a camera analyses. */
export interface Analysed {
  /** Their places in the clip, rising. */
  indices: Uint32Array;
  /** Their times, seconds from the clip's start. */
  times: Float64Array;
}

/** Frames are taken at the camera's own rate, as far as the clip has them. */
export function analysedFrames(clip: Clip, camera: Camera): Analysed {
  const indices = sampleFrames(clip.times, clip.seconds, clip.rate, camera.analysis.rate);
  return { indices, times: Float64Array.from(indices, (i) => clip.times[i]!) };
}
