import type { Truth } from '../score/truth.js';
import { judge } from '../score/verdict.js';

const codes = { false: 0, ignored: 1, true: 2 } as const;
export const IGNORED = codes.ignored;
export const TRUE = codes.true;

/** In place of a row: the visit has no box. */
export const NO_ROW = 0xffffffff;

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
  /**
   * For each entry of visitList where it is told how much changed within the visit's box at that frame: a row of the
   * clip's `within` columns, or NO_ROW. In the clip as a whole rows rise by one from entry to entry that has one.
   */
  rows: Uint32Array;
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
  return {
    times,
    verdict,
    visitStart,
    visitList: Uint32Array.from(visitList),
    rows: rowsFor(visitList, truth),
  };
}

/** The rows of the entries of a list of visits, numbered from 0. */
export function rowsFor(visitList: ArrayLike<number>, { visits }: Pick<Truth, 'visits'>): Uint32Array {
  let next = 0;
  return Uint32Array.from(visitList, (visit) => (visits[visit]?.box ? next++ : NO_ROW));
}
