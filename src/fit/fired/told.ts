import type { Burst } from './bursts.js';

/** When a camera says that it fired, by its own clock. */
export interface Told {
  /** Seconds, rising, one for each trigger: from the clip's start where `isPlaced`, else from the first of them. */
  times: number[];
  /** Whether it is known, but for a minute, where on the clip they lie. */
  isPlaced: boolean;
  /** Seconds to which they are rounded; 0: not noticeably. */
  quantum: number;
  /** Times or photos that were given. */
  given: number;
  /** Null: each of them is a trigger of its own. */
  burst: Burst | null;
  /** What was taken to be so. */
  assumed: string[];
}

/** Seconds that a clock may be off beside the shutter's lag. */
export const FARTHEST_OFF = 65;

/** Between which offsets the right one lies: told time less time on the clip, seconds. */
export function offsetsOf(
  { times, isPlaced }: Pick<Told, 'times' | 'isPlaced'>,
  seconds: number,
): { lowest: number; highest: number } {
  return isPlaced
    ? { lowest: -FARTHEST_OFF, highest: FARTHEST_OFF }
    : { lowest: -seconds, highest: times.at(-1) ?? 0 };
}

const QUANTA = [1, 0.1];

/** To what times were rounded, as far as they show it. */
export function quantumOf(times: readonly number[]): number {
  const first = times[0] ?? 0;
  const isMultiple = (x: number, of: number) => Math.abs(x / of - Math.round(x / of)) < 1e-4;
  return QUANTA.find((quantum) => times.every((time) => isMultiple(time - first, quantum))) ?? 0;
}
