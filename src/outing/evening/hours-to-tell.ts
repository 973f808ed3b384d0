import { rateByBouts } from '../../score/by-bouts.js';
import { poissonRate } from '../../score/intervals.js';
import type { Between } from '../between.js';
import { mostPromised } from './verdict.js';

/** Hours: no longer is looked ahead than a month out. */
const LONGEST = 720;
const STEP = 1.1;

/**
 * About how many hours out it takes until a promise can be told to hold, were photos of nothing to come as promised and in
 * bunches as they did; null where a month does not do.
 * @param scatter how much more than single photos counts of them scatter, a ratio of variances
 */
export function hoursToTell(promised: Between, scatter: number): number | null {
  const most = mostPromised(promised);
  for (let hours = 0.25; hours <= LONGEST; hours *= STEP) {
    const count = Math.ceil(promised.value * hours);
    const rate = poissonRate(count, hours)!;
    // Bouts of which the squares come to that scatter.
    const squares = scatter * (count + 2) - 4;
    if (rateByBouts(rate, { bouts: count, squares }, hours).high <= most) return hours;
  }
  return null;
}
