import { type Burst, burstsIn } from '../../fit/bursts.js';
import { quantumOf } from '../../fit/told.js';

/**
 * The burst that photos show by themselves, also of a camera that soon fires again; null where they leave it open.
 * @param times seconds, in any order
 */
export function burstShown(times: readonly number[]): Burst | null {
  const rising = [...times].sort((a, b) => a - b);
  return rising.length === 0 ? null : burstsIn(rising, quantumOf(rising), null).burst;
}
