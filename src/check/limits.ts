import { Problem } from '../base/problem.js';
import type { Rate, Ratio } from '../score/intervals.js';
import type { Score } from '../score/score.js';
import type { Limits } from './suite.js';

export type LimitName = 'recall' | 'falsePerHour';

/** A limit and how it stands. */
export interface LimitResult {
  /** Null: over all clips together. */
  clip: string | null;
  limit: LimitName;
  /** recall: at least; falsePerHour: at most. */
  bound: number;
  value: number;
  /** The value's 90 % interval, of a rate by bouts, whose number is then `n`. Whether a limit holds is asked of the value: of these clips, not of others. */
  interval: { low: number; high: number; n: number };
  holds: boolean;
  /** It does not hold, but somebody accepted results in which it held no better. */
  accepted: boolean;
}

/** A limit that did not hold when results were accepted. */
export type BrokenLimit = Pick<LimitResult, 'clip' | 'limit' | 'bound' | 'value'>;

/** Values are quotients of counts; this is above their rounding and below any difference of one. */
const ROUNDING = 1e-9;

/**
 * How limits stand.
 * @param where the suite's file and the place of these limits in it, for messages
 * @throws Problem 'bad-field' for a limit on something the clip has nothing of
 */
export function limitResults(
  limits: Limits,
  clip: string | null,
  score: Score,
  where: string,
  broken: readonly BrokenLimit[],
): LimitResult[] {
  const judged = (limit: LimitName, measured: Ratio | Rate | null, none: string): LimitResult[] => {
    const bound = limits[limit];
    if (bound === undefined) return [];
    if (!measured) {
      throw new Problem(
        'bad-field',
        `${where}.${limit}: expected a limit on something that can be told, but ${none}; take the limit out`,
      );
    }
    const { value } = measured;
    const { low, high, n } = measured.bouts ?? measured;
    const noWorse = (than: number) =>
      limit === 'recall' ? value >= than - ROUNDING : value <= than + ROUNDING;
    const holds = noWorse(bound);
    const accepted =
      !holds &&
      broken.some((b) => b.clip === clip && b.limit === limit && b.bound === bound && noWorse(b.value));
    return [{ clip, limit, bound, value, interval: { low, high, n }, holds, accepted }];
  };
  const here = clip === null ? 'the clips have' : 'the clip has';
  return [
    ...judged('recall', score.recall, `${here} no animal visits`),
    ...judged('falsePerHour', score.falsePerHour, `${here} no watched time outside visits`),
  ];
}
