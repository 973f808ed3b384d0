import type { Camera } from '../../camera/description.js';
import { dialFor, positions, valueAt } from '../../camera/dials.js';
import { type Burst, burstsIn } from '../../fit/fired/bursts.js';
import { quantumOf } from '../../fit/fired/told.js';
import { BOUT } from '../../score/bouts.js';

/** Fewer bursts that follow another at once tell nothing. */
const FEWEST = 8;
/** Share of them that must be whole, as must be those that they follow. */
const NEARLY_ALL = 0.8;

/**
 * The burst that photos show by themselves, also of a camera that soon fires again; null where they leave it open.
 * @param times seconds, in any order
 */
export function burstShown(times: readonly number[]): Burst | null {
  const rising = risingOf(times);
  return rising.length === 0 ? null : burstsIn(rising, quantumOf(rising), null).burst;
}

/**
 * The burst that photos show where it cannot be that of a description: more photos than this says, and either sooner after each
 * other than the camera fires again, or in bursts that follow each other within a visit, so that short gaps and longer ones
 * alternate there. A camera that fires twice at each visit, or of whose photos some were deleted, shows neither.
 * @returns null where the description may be right
 */
export function burstAgainst(times: readonly number[], { burst, controls }: Camera): Burst | null {
  const shown = burstShown(times);
  if (shown === null || shown.photos <= burst.photos) return null;
  const rising = risingOf(times);
  const quantum = quantumOf(rising);
  const dial = dialFor(controls, 'cooldown')?.[1];
  const soonest = dial ? Math.min(...positions(dial).map((position) => valueAt(dial, position))) : 0;
  return shown.interval < soonest - quantum / 2 || followEachOther(rising, quantum, shown) ? shown : null;
}

function followEachOther(rising: readonly number[], quantum: number, shown: Burst): boolean {
  const { times } = burstsIn(rising, quantum, shown, shown.photos);
  const isWhole = times.map((start, i) => {
    const next = times[i + 1] ?? Number.POSITIVE_INFINITY;
    return rising.filter((time) => time >= start && time < next).length === shown.photos;
  });
  const following = times.flatMap((start, i) => (i > 0 && start - times[i - 1]! <= BOUT ? [i] : []));
  const whole = following.filter((i) => isWhole[i] && isWhole[i - 1]);
  return following.length >= FEWEST && whole.length >= NEARLY_ALL * following.length;
}

function risingOf(times: readonly number[]): number[] {
  return [...times].sort((a, b) => a - b);
}
