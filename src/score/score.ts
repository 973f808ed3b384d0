import { rateByBouts, ratioByBouts } from './by-bouts.js';
import { poissonRate, type Rate, type Ratio, wilson } from './intervals.js';

/** Counts that add up over clips. */
export interface Counts {
  visits: number;
  caught: number;
  /** Visits of which it can be told whether they were caught by luck; and those of them that were, which are caught. */
  boxed: number;
  byLuck: number;
  trueTriggers: number;
  falseTriggers: number;
  ignoredTriggers: number;
  watchedSeconds: number;
  /** Bunches that true and false triggers come in, and the squares of their sizes (bouts.ts). */
  trueBouts: number;
  trueSquares: number;
  falseBouts: number;
  falseSquares: number;
}

/** How well one group of settings did; a ratio with nothing under it is null. */
export interface Score {
  visits: number;
  /** Those caught by luck among them. */
  caught: number;
  /** Visits caught while nothing within their box would have fired; null where no visit can be told. */
  byLuck: number | null;
  trueTriggers: number;
  falseTriggers: number;
  ignoredTriggers: number;
  watchedHours: number;
  precision: Ratio | null;
  recall: Ratio | null;
  falsePerHour: Rate | null;
}

export const noCounts: Readonly<Counts> = {
  visits: 0,
  caught: 0,
  boxed: 0,
  byLuck: 0,
  trueTriggers: 0,
  falseTriggers: 0,
  ignoredTriggers: 0,
  watchedSeconds: 0,
  trueBouts: 0,
  trueSquares: 0,
  falseBouts: 0,
  falseSquares: 0,
};

/** Counts of several clips together. */
export function addCounts(all: readonly Counts[]): Counts {
  const sum = { ...noCounts };
  for (const counts of all) {
    for (const key of Object.keys(sum) as (keyof Counts)[]) sum[key] += counts[key];
  }
  return sum;
}

/** The score that counts amount to, each ratio with its n and 90 % interval. */
export function scoreOf(counts: Counts): Score {
  const { watchedSeconds, boxed, byLuck, trueBouts, trueSquares, falseBouts, falseSquares, ...rest } = counts;
  const watchedHours = watchedSeconds / 3600;
  const [trues, falses] = [
    { bouts: trueBouts, squares: trueSquares },
    { bouts: falseBouts, squares: falseSquares },
  ];
  const precision = wilson(counts.trueTriggers, counts.trueTriggers + counts.falseTriggers);
  const falsePerHour = poissonRate(counts.falseTriggers, watchedHours);
  return {
    ...rest,
    byLuck: boxed > 0 ? byLuck : null,
    watchedHours,
    precision: precision && { ...precision, bouts: ratioByBouts(precision, trues, falses) },
    recall: wilson(counts.caught, counts.visits),
    falsePerHour: falsePerHour && { ...falsePerHour, bouts: rateByBouts(falsePerHour, falses, watchedHours) },
  };
}
