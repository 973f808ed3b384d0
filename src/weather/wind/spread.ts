import type { Size } from '../averaging.js';
import { boxMean } from '../foliage/box.js';

/** Half the side of the square over which motion is gathered, as a share of the frame's width: a few leaves. */
const GATHERED = 0.006;
/** Squared grey levels of change beside which less says nothing of how far a place goes. */
const FAINT = 2;
/** A place goes no more and no less than so many times as far as if all went alike. */
const MOST = 3;
const LEAST = 0.1;

/**
 * How far each place goes against what a simulation shows there in which all leaves and branches are moved alike: leaves and twigs differ
 * among each other in how far they go, and which of them go far is seen. Where brightness has slope g, a small shift u changes it by g u
 * (Lucas & Kanade 1981), so the ratio of two squared changes of the same picture is that of squared shifts, whatever its contrast.
 *
 * @param seen squared change of each pixel from frame to frame, that of noise taken off; `simulated` likewise
 * @returns factors, one for each pixel, 1 where neither changes enough to tell
 */
export function reachesOf(
  seen: Float32Array,
  simulated: Float32Array,
  { width, height }: Size,
): Float32Array {
  const radius = Math.max(1, Math.round(GATHERED * width));
  const [here, alike] = [seen, simulated].map((part) => boxMean(part, width, height, radius)) as [
    Float32Array,
    Float32Array,
  ];
  return here.map((much, i) =>
    Math.min(
      MOST,
      Math.max(LEAST, Math.sqrt((Math.max(0, much) + FAINT) / (Math.max(0, alike[i]!) + FAINT))),
    ),
  );
}
