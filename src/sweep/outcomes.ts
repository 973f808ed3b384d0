import type { Truth } from '../score/truth.js';
import { judge } from '../score/verdict.js';

const codes = { false: 0, ignored: 1, true: 2 } as const;
export const IGNORED = codes.ignored;
export const TRUE = codes.true;

/**
 * What a trigger at each analysed frame would turn out to be. It depends on the frame's time, the shutter and the
 * labels alone, so it is worked out once for all settings. `visits` of frame k are
 * visitList[visitStart[k] .. visitStart[k + 1]), places in the truth's list of visits.
 */
export interface Outcomes {
  /** Of the frames, seconds. */
  times: Float64Array;
  verdict: Uint8Array;
  visitStart: Uint32Array;
  visitList: Uint32Array;
}

/** Judges a trigger at every analysed frame time (seconds). */
export function outcomesAt(
  times: Float64Array,
  photosOf: (time: number) => number[],
  truth: Truth,
): Outcomes {
  const verdict = new Uint8Array(times.length);
  const visitStart = new Uint32Array(times.length + 1);
  const visitList: number[] = [];
  times.forEach((time, k) => {
    const judged = judge(truth, time, photosOf(time));
    verdict[k] = codes[judged.verdict];
    for (const visit of judged.visits) visitList.push(visit);
    visitStart[k + 1] = visitList.length;
  });
  return { times, verdict, visitStart, visitList: Uint32Array.from(visitList) };
}
