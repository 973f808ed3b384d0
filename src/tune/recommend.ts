import type { Grid } from '../sweep/grid.js';
import { chooseBest } from './choose.js';
import { caughtNearBest, type Expected, expectedOf } from './expected.js';
import { type Goal, isWithin, worthOf } from './goal.js';
import { chanceIfNeverFalse, chanceOfKeeping, expectedOvershoot } from './overshoot.js';
import { middleOfPlateau } from './plateau.js';
import type { Pool } from './pool.js';

/** Recall worth giving up for every allowance's worth of expected overshoot. */
const PRICE = 0.35;
/** What may be given up against the best on the clips given: one visit or this share of them, whichever is more. */
const SHARE_GIVEN_UP = 0.05;

export interface Recommendation {
  /** The setting to use, by its number in the grid. */
  setting: number;
  /** The best on the clips given, which it may differ from. */
  best: number;
  /** Whether the best keeps the allowance on the clips given; by worth there is none to break. */
  kept: boolean;
  /** What its neighbourhood says of it: visits caught and false triggers expected on as much footage. */
  expected: { caught: number; falseTriggers: number };
  /** What it was chosen by; may be compared only among grids swept over the same footage for the same goal. */
  worth: number;
}

/**
 * Chooses a setting to hold on footage not seen. The best on the clips given is partly luck: a setting that catches a
 * visit which none of its neighbours catch, or just escapes a false trigger that all of them have, will not do so
 * again; and one that catches a visit only because something else fired while the animal was there (counted apart where the
 * labels give boxes) caught nothing of its own. So each setting is judged by what its neighbourhood lets expect. Among the settings that are within the goal
 * here and lose hardly a visit to the best, the one is taken that is expected to be worth most, its visits averaged lightly;
 * within an allowance that is the highest expected recall, less a price for the expected overshoot. To be sure of an allowance
 * more may be given up, so that what was caught here bounds nothing, and visits are averaged in full. The constants were set
 * on drawn sites that do not appear in the evaluation (tests/evaluate/RECOMMENDATIONS.md).
 */
export function recommend(pool: Pool, grid: Grid, goal: Goal): Recommendation {
  return recommendBy(caughtNearBest(pool, grid), pool, grid, goal);
}

/**
 * The same with visits averaged in full: where masks are sought, on half of the footage, with cells in place of pixels, luck weighs
 * more; what lighter averaging does there was not tried.
 */
export function recommendToSearch(pool: Pool, grid: Grid, goal: Goal): Recommendation {
  return recommendBy(null, pool, grid, goal);
}

/** @param nearBest visits that settings near the best are compared by; null: those expected */
function recommendBy(nearBest: Float64Array | null, pool: Pool, grid: Grid, goal: Goal): Recommendation {
  const best = chooseBest(pool, goal);
  const judged = { ...pool, caught: pool.own };
  const expected = expectedOf(pool, grid);
  const worth =
    goal.kind === 'allowance' && goal.sure !== undefined
      ? worthWhereSure(judged, expected, goal.falsePerHour, goal.sure)
      : worthNearBest(
          judged,
          { ...expected, caught: nearBest ?? expected.caught },
          chooseBest(judged, goal),
          goal,
        );
  const setting = middleOfPlateau(worth, grid);
  return {
    setting,
    best: best.setting,
    kept: best.kept,
    expected: {
      caught: Math.min(pool.visits, Math.max(0, expected.caught[setting]!)),
      falseTriggers: expected.falseTriggers[setting]!,
    },
    worth: worth[setting]!,
  };
}

/**
 * The probability that a setting keeps the allowance on as much footage again.
 * @returns null: nobody asked how surely it is to be kept
 */
export function chanceReached(pool: Pool, grid: Grid, setting: number, goal: Goal): number | null {
  if (goal.kind === 'worth' || goal.sure === undefined) return null;
  const allowed = goal.falsePerHour * (pool.watchedSeconds / 3600);
  return chanceOfKeeping(expectedOf(pool, grid), setting, allowed);
}

/**
 * What every setting that is within the goal and near the best is expected to be worth; the others nothing at all.
 * @param expected visits caught are those that settings near the best are compared by
 */
function worthNearBest(
  pool: Pool,
  expected: Expected,
  best: { setting: number; kept: boolean },
  goal: Goal,
): Float64Array {
  const { size, caught, falseTriggers, watchedSeconds, visits } = pool;
  const givenUp = Math.max(1, Math.floor(SHARE_GIVEN_UP * visits + 1e-9));
  const worth = new Float64Array(size).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < size; i++) {
    if (goal.kind === 'worth') {
      const here = (setting: number) => worthOf(caught[setting]!, falseTriggers[setting]!, goal);
      if (here(i) < here(best.setting) - givenUp * goal.photos - 1e-9) continue;
      worth[i] = worthOf(expected.caught[i]!, expected.falseTriggers[i]!, goal);
      continue;
    }
    if (caught[i]! < caught[best.setting]! - givenUp) continue;
    const candidate = best.kept
      ? isWithin(falseTriggers[i]!, watchedSeconds, goal)
      : falseTriggers[i]! <= falseTriggers[best.setting]!;
    if (!candidate) continue;
    const allowed = goal.falsePerHour * (watchedSeconds / 3600);
    worth[i] = expected.caught[i]! / Math.max(1, visits) - PRICE * expectedOvershoot(expected, i, allowed);
  }
  return worth;
}

/**
 * Visits expected of every setting that keeps the allowance as surely as is asked for. Where the footage is too short to show that
 * of any, those count that come as near to one that never fired falsely, for else only settings that catch nothing would be left:
 * what is reached then is told (`chanceReached`). Where no setting is as sure as that, of those that keep it with the highest probability. The others nothing at all.
 */
function worthWhereSure(pool: Pool, expected: Expected, falsePerHour: number, sure: number): Float64Array {
  const allowed = falsePerHour * (pool.watchedSeconds / 3600);
  const chances = Float64Array.from({ length: pool.size }, (_, i) => chanceOfKeeping(expected, i, allowed));
  const most = chances.reduce((a, b) => Math.max(a, b));
  const reach = chanceIfNeverFalse(allowed, pool.units);
  const limit = Math.min(reach >= sure ? sure : sure * reach, most) - 1e-9;
  return chances.map((chance, i) => (chance >= limit ? expected.caught[i]! : Number.NEGATIVE_INFINITY));
}
