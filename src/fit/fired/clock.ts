import { median } from '../../weather/sensor/noise-line.js';

/** How the times that a camera tells lie to those of a clip: told = clip + offset + drift * clip. */
export interface Clock {
  /** Seconds: shutter lag and what the clock is ahead, which cannot be told apart. */
  offset: number;
  /** Seconds a second. */
  drift: number;
}

/** Told times as times of the clip. */
export function onClip(told: ArrayLike<number>, { offset, drift }: Clock): Float64Array {
  return Float64Array.from(told, (time) => (time - offset) / (1 + drift));
}

/** Times of the clip, and how far the told ones lie after them by a clock that is nearly right. */
export interface Late {
  at: number;
  late: number;
}

/** Below so many pairs, or over so short a time, no drift can be told from rounding and luck. */
const FEWEST_FOR_DRIFT = 12;
export const SHORTEST_FOR_DRIFT = 900;
/** Seconds a second; no clock that anybody kept goes wrong by more. */
const MOST_DRIFT = 10 / 3600;

/**
 * A clock set right by what is left of pairs that match: the middle of the lateness, and where the pairs span time enough
 * their slope (the median of the slopes between them, Theil 1950 and Sen 1968, which outliers do not turn).
 */
export function setRight(clock: Clock, pairs: readonly Late[]): Clock {
  if (pairs.length === 0) return clock;
  const first = pairs[0]!.at;
  const last = pairs.at(-1)!.at;
  const isLong = pairs.length >= FEWEST_FOR_DRIFT && last - first >= SHORTEST_FOR_DRIFT;
  const slope = isLong ? slopeOf(pairs, (last - first) / 4) : 0;
  const drift = Math.abs(clock.drift + slope) > MOST_DRIFT ? clock.drift : clock.drift + slope;
  const turned = drift - clock.drift;
  // `late` is counted in the clip's seconds, of which the told ones are 1 + drift.
  const left = median(pairs.map(({ at, late }) => late - turned * at));
  return { offset: clock.offset + left, drift };
}

function slopeOf(pairs: readonly Late[], apart: number): number {
  const step = Math.ceil(pairs.length / 300);
  const few = pairs.filter((_, i) => i % step === 0);
  const slopes: number[] = [];
  for (const [i, a] of few.entries()) {
    for (const b of few.slice(i + 1))
      if (b.at - a.at >= apart) slopes.push((b.late - a.late) / (b.at - a.at));
  }
  return slopes.length === 0 ? 0 : median(slopes);
}
