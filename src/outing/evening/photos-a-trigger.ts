import { BOUT } from '../../score/bouts.js';
import { burstsOf } from './bursts.js';

/** Fewer bunches of photos tell nothing of how many a trigger brings. */
const LEAST = 8;
/** So many of all bunches must be of one size. */
const NEARLY_ALL = 0.8;

/**
 * How many photos a trigger brings, where the photos themselves leave little doubt: nearly all bunches, parted by more than 30 s, hold
 * as many, and those of one bunch follow each other at once. The figures are assumptions; what is not as clear as that is not told.
 * @param times rising
 * @returns null where that cannot be told
 */
export function photosATrigger(times: readonly number[]): number | null {
  const bunches: number[][] = [];
  for (const time of times) {
    const last = bunches.at(-1);
    if (last && time - last.at(-1)! <= BOUT) last.push(time);
    else bunches.push([time]);
  }
  if (bunches.length < LEAST) return null;
  const sizes = new Map<number, number>();
  for (const bunch of bunches) {
    const atOnce = burstsOf(bunch, null).at(-1) === 0;
    if (atOnce) sizes.set(bunch.length, (sizes.get(bunch.length) ?? 0) + 1);
  }
  const [usual] = [...sizes].sort((a, b) => b[1] - a[1]);
  return usual && usual[1] >= NEARLY_ALL * bunches.length ? usual[0] : null;
}
