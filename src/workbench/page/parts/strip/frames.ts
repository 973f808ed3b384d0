import { clip, frameAt } from '../../state/clip.js';

/** The time of the frame that is nearest to a time: labels begin and end at frames. */
export function nearestTime(seconds: number): number {
  return clip.value?.times[frameAt(seconds)] ?? 0;
}
