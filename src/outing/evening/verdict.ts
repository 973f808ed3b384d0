import { boutsOf } from '../../score/bouts.js';
import { rateByBouts, scatterOfBouts } from '../../score/by-bouts.js';
import { gammaBelow } from '../../score/gamma.js';
import { poissonRate, type Rate } from '../../score/intervals.js';
import type { Between } from '../between.js';
import { meansPromised, type PromisedPart, promisedPerHour } from './promise.js';

export type Verdict = 'held' | 'better' | 'worse' | 'too little to tell';

/** How often, were the promise true, it is called worse, and how often better, at most. */
export const TAIL = 0.05;
/** A promise that may still be so many times too low has not been shown to hold. */
const TWICE = 2;

/**
 * Photos of nothing an hour, with the interval by bouts; null where no time was watched.
 * @param untold photos that may be of nothing: the intervals end where they would, were all of them
 */
export function nothingRate(
  times: readonly number[],
  hours: number,
  untold: readonly number[] = [],
): Rate | null {
  const rate = poissonRate(times.length, hours);
  if (!rate) return null;
  const told = { ...rate, bouts: rateByBouts(rate, boutsOf(times), hours) };
  if (untold.length === 0) return told;
  const most = nothingRate(rising([...times, ...untold]), hours) ?? told;
  const bouts = told.bouts && { ...told.bouts, high: most.bouts?.high ?? most.high };
  return { ...told, high: most.high, ...(bouts && { bouts }) };
}

function rising(times: readonly number[]): number[] {
  return [...times].sort((a, b) => a - b);
}

/**
 * How likely so many photos of nothing, or more, and so many or fewer are, were the promise true: a Poisson count of bouts
 * whose mean is itself uncertain by what was promised.
 */
export function tailsOf(
  times: readonly number[],
  parts: readonly PromisedPart[],
): { more: number; fewer: number } {
  const count = times.length;
  const scatter = scatterOfBouts(count, boutsOf(times));
  const means = meansPromised(parts);
  // A Poisson count is at least k where a gamma variable of shape k lies below its mean; of bouts k need not be whole.
  const average = (of: (mean: number) => number) =>
    means.reduce((sum, mean) => sum + of(mean / scatter), 0) / means.length;
  return {
    more: count === 0 ? 1 : average((mean) => gammaBelow(count / scatter, mean)),
    fewer: average((mean) => 1 - gammaBelow(count / scatter + 1, mean)),
  };
}

/** The highest rate that is still as promised: the end of what was said, or twice its value where that is more. */
export function mostPromised({ value, high }: Between): number {
  return Math.max(high, TWICE * value);
}

/** The lowest rate of which it may be said that it is as promised; below it a promise that reaches to 0 tells nothing. */
export function leastPromised({ value }: Between): number {
  return value / TWICE;
}

/** Of a promise that can be kept or broken the ends are not so many times apart. How wide is too wide is an assumption. */
const FARTHEST_APART = 10;
/** Photos of nothing an hour that nobody minds: a low end below it counts as this. */
const NEXT_TO_NONE = 1;

/** Whether hardly anything that comes could keep or break a promise, so wide it is, and beyond what is as promised at both ends. */
export function isTooWide(promised: Between): boolean {
  const { value, low, high } = promised;
  return (
    high >= FARTHEST_APART * Math.max(low, NEXT_TO_NONE) &&
    high > TWICE * value &&
    low < leastPromised(promised)
  );
}

/** Photos of nothing in a part of the hours out, rising, and what was promised for it. */
export interface Came {
  times: readonly number[];
  promised: PromisedPart;
}

/**
 * Whether photos of nothing came as often as was promised. Worse and better: each happens at most once in twenty were the
 * promise true. Worse is what came all in all or, of several parts, in any of them, half of the chance for the one and half
 * shared among the others (Bonferroni). Held: neither, and what came leaves no room, 90 % by bouts, for a rate above the end of
 * the promise, or twice its value where that is more, and reaches half its value: a wide promise is not held by what hardly fires.
 */
export function verdictOf(parts: readonly Came[]): Verdict {
  const promises = parts.map(({ promised }) => promised);
  const promised = promisedPerHour(promises);
  if (!promised) return 'too little to tell';
  const times = rising(parts.flatMap((part) => [...part.times]));
  const { more, fewer } = tailsOf(times, promises);
  const several = parts.length > 1;
  if (more <= (several ? TAIL / 2 : TAIL)) return 'worse';
  if (several && parts.some((part) => isBroken(part, parts.length))) return 'worse';
  if (fewer <= TAIL) return 'better';
  const hours = promises.reduce((sum, part) => sum + part.hours, 0);
  const seen = nothingRate(times, hours);
  const most = seen && (seen.bouts?.high ?? seen.high);
  return most !== null && most <= mostPromised(promised) && most >= leastPromised(promised)
    ? 'held'
    : 'too little to tell';
}

function isBroken({ times, promised }: Came, parts: number): boolean {
  return tailsOf(times, [promised]).more <= TAIL / 2 / parts;
}

/**
 * As verdictOf, where of some photos it is not known whether they are of nothing: told only where it is the same whatever they
 * show.
 * @param untold of each part, photos that may be of nothing
 */
export function verdictWith(parts: readonly (Came & { untold: readonly number[] })[]): Verdict {
  const least = verdictOf(parts);
  if (parts.every(({ untold }) => untold.length === 0)) return least;
  const most = verdictOf(
    parts.map(({ times, untold, promised }) => ({
      times: rising([...times, ...untold]),
      promised,
    })),
  );
  return least === most ? least : 'too little to tell';
}
