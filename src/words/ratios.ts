import type { Rate, Ratio } from '../score/intervals.js';
import type { Score } from '../score/score.js';
import { figureBetween, percentBetween } from './wording.js';

export { clock, dialsText, figure, plural } from './wording.js';

/** 79 % (66–88), or a dash where there is nothing to take a share of. */
export function share(ratio: Ratio | null): string {
  return ratio ? percentBetween(ratio) : '-';
}

/** 4.8 (0.9–15), or a dash where nothing was watched. */
export function rate(r: Pick<Rate, 'value' | 'low' | 'high'> | null): string {
  return r ? figureBetween(r) : '-';
}

/** A rate with the interval by bouts, for false triggers come in bunches. */
export function byBouts({
  falsePerHour,
}: Pick<Score, 'falsePerHour'>): Pick<Rate, 'value' | 'low' | 'high'> | null {
  return falsePerHour && { ...falsePerHour, ...falsePerHour.bouts };
}
