import { scatterOfBouts } from '../score/by-bouts.js';
import type { Grid } from '../sweep/grid.js';
import { blurred } from './blur.js';
import type { Pool } from './pool.js';

/** Weight of a neighbour one notch away: in the visits caught, and in the logarithm of false triggers (twice over). */
const CAUGHT_WEIGHT = 1;
const FALSE_WEIGHT = 0.5;
/** The same in the visits caught, among settings that are near the best on the clips given anyway. */
const NEAR_BEST_WEIGHT = 0.25;
/** False triggers added before taking logarithms: none seen is not none to come. */
const UNSEEN_FALSE = 0.5;

/** What the neighbourhood of each setting lets expect on as much footage; indexed by the setting's number. */
export interface Expected {
  /** Visits, not by luck. */
  caught: Float64Array;
  falseTriggers: Float64Array;
  /** How much more than Poisson these scatter, for they come in bouts: a ratio of variances, at least 1. */
  scatter: Float64Array;
  /** Clips or blocks that it rests on. */
  units: number;
}

/**
 * Visits caught are averaged with those one notch away, false triggers by their logarithm, for they fall by a like factor
 * with every notch.
 */
export function expectedOf(pool: Pool, grid: Grid): Expected {
  const logs = pool.falseTriggers.map((n) => Math.log(n + UNSEEN_FALSE));
  const logFalse = blurred(blurred(logs, grid, FALSE_WEIGHT), grid, FALSE_WEIGHT);
  return {
    caught: blurred(pool.own, grid, CAUGHT_WEIGHT),
    falseTriggers: logFalse.map((log) => Math.max(0, Math.exp(log) - UNSEEN_FALSE)),
    scatter: pool.falseTriggers.map((n, i) => scatterOfBouts(n, { squares: pool.falseSquares[i]! })),
    units: pool.units,
  };
}

/**
 * What settings near the best are compared by: visits caught, not by luck, averaged with neighbours more lightly. What a setting
 * caught itself tells more than its neighbourhood does, where luck is bounded already by what may be given up against the best.
 */
export function caughtNearBest({ own }: Pick<Pool, 'own'>, grid: Grid): Float64Array {
  return blurred(own, grid, NEAR_BEST_WEIGHT);
}
