import type { Camera } from '../../../camera/description.js';
import type { EvidenceColumns } from '../../protocol.js';

/** How much changed over a stretch of a clip, for a picture of it. */
export interface StripShades {
  /** Rising, grey levels. */
  levels: number[];
  buckets: number;
  /** The most pixels in each bucket of time, level after level: at [level * buckets + bucket]. */
  most: Uint32Array;
}

/** A frame stands for the time until the next one, but not for a gap in the recording. */
const HOLDS = 2.5;

/**
 * The most that changed in each of `buckets` equal parts of the time from `from` up to `to`, at every level. A part that is
 * shorter than a frame shows the frame that stood then; one in which there was none shows nothing.
 * @param from, to seconds
 */
export function stripOf(
  evidence: EvidenceColumns,
  area: Camera['area'],
  buckets: number,
  from: number,
  to: number,
): StripShades {
  const { levels, times } = evidence;
  const most = new Uint32Array(levels.length * buckets);
  const wide = (to - from) / buckets;
  const usual = usualStep(times);
  const first = Math.max(0, firstAfter(times, from) - 1);
  const last = firstAfter(times, to) - 1;
  for (const [row, level] of levels.entries()) {
    const pixels = evidence[area].get(level)!;
    for (let k = first; k <= last; k++) {
      const time = times[k]!;
      const until = Math.min(times[k + 1] ?? Number.POSITIVE_INFINITY, time + HOLDS * usual);
      const begins = Math.max(0, Math.floor((time - from) / wide));
      // Up to the bucket in which the next frame comes, and not into it.
      const ends = Math.min(buckets - 1, Math.max(begins, Math.ceil((until - from) / wide) - 1));
      if (time < from && until <= from) continue;
      const count = pixels[k]!;
      for (let at = row * buckets + begins; at <= row * buckets + ends; at++) {
        if (count > most[at]!) most[at] = count;
      }
    }
  }
  return { levels, buckets, most };
}

const steps = new WeakMap<Float64Array, number>();

/** Seconds from a frame to the next, as a rule: the median, which no gap in the recording moves. */
function usualStep(times: Float64Array): number {
  let usual = steps.get(times);
  if (usual === undefined) {
    const all = times.subarray(1).map((time, k) => time - times[k]!);
    usual = all.sort()[all.length >> 1] ?? Number.POSITIVE_INFINITY;
    steps.set(times, usual);
  }
  return usual;
}

/** Place of the first time that is later. */
function firstAfter(times: Float64Array, time: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! <= time) low = middle + 1;
    else high = middle;
  }
  return low;
}
