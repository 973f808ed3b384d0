import { parseInstant, rfc3339 } from '../../plan/instant.js';

/** An instant to any fraction of a second, with the clock it was written by. */
export interface Moment {
  /** Whole milliseconds since 1970 in UTC, of the second it lies in. */
  ms: number;
  /** Of a second. */
  fraction: number;
  /** What the clock is ahead of UTC, minutes. */
  offset: number;
}

/** @throws Problem 'bad-times' for what is no time with a zone */
export function momentOf(text: string, where: string): Moment {
  const { ms, offset } = parseInstant(text, where);
  return { ms, offset, fraction: Number(`0${/\.\d+/.exec(text)?.[0] ?? ''}`) };
}

/** Seconds from one moment to a later one. */
export function secondsBetween(from: Moment, to: Moment): number {
  // Whole seconds first: a sum of milliseconds since 1970 would keep six decimals at most.
  return (to.ms - from.ms) / 1000 + to.fraction - from.fraction;
}

/** Seconds that are off by what sums of decimals are off by. */
const DUST = 1e-9;

/** The whole second that so many seconds after a moment lie in, or begin the next, by the moment's clock: RFC 3339. */
export function wholeSecond(from: Moment, seconds: number, round: 'down' | 'up'): string {
  const after = from.fraction + seconds;
  const whole = round === 'down' ? Math.floor(after + DUST) : Math.ceil(after - DUST);
  return rfc3339({ ms: from.ms + whole * 1000, offset: from.offset });
}

/** What whole seconds take off so many seconds after a moment. */
export function fractionLost(from: Moment, seconds: number): number {
  const after = from.fraction + seconds;
  const lost = after - Math.floor(after + DUST);
  return lost < DUST ? 0 : lost;
}
