import type { Grid } from '../sweep/grid.js';
import { blurred } from './blur.js';
import { type Allowance, chooseBest, keeps } from './choose.js';
import type { Pool } from './pool.js';

/** Weight of a neighbour one notch away: in the visits caught, and in the logarithm of false triggers (twice over). */
const CAUGHT_WEIGHT = 1;
const FALSE_WEIGHT = 0.5;
/** False triggers added before taking logarithms: none seen is not none to come. */
const UNSEEN_FALSE = 0.5;
/** How much more than Poisson false triggers scatter from recording to recording, as a ratio of variances. */
const SCATTER = 2;
/** Recall worth giving up for every allowance's worth of expected overshoot. */
const PRICE = 0.35;

/** What may be given up against the best on the clips given: one visit or this share of them, whichever is more. */
const SHARE_GIVEN_UP = 0.05;

export interface Recommendation {
  /** The setting to use, by its number in the grid. */
  setting: number;
  /** The best on the clips given, which it may differ from. */
  best: number;
  /** Whether the allowance is kept on the clips given. */
  kept: boolean;
  /** What its neighbourhood says of it: visits caught and false triggers expected on as much footage. */
  expected: { caught: number; falseTriggers: number };
}

/**
 * Chooses a setting to hold on footage not seen. The best on the clips given is partly luck: a setting that catches a
 * visit which none of its neighbours catch, or just escapes a false trigger that all of them have, will not do so
 * again. So each setting is judged by its neighbourhood: visits caught are averaged with those one notch away, false
 * triggers by their logarithm, for they fall by a like factor with every notch. Among the settings that keep the allowance
 * here and lose hardly a visit to the best, the one with the highest expected recall, less a price for the expected
 * overshoot of the allowance, is taken. The constants were set on drawn sites that do not appear in the evaluation
 * (tests/evaluate/RESULTS.md).
 */
export function recommend(pool: Pool, grid: Grid, allowance: Allowance): Recommendation {
  const best = chooseBest(pool, allowance);
  const visits = Math.max(1, pool.visits);
  const allowed = allowance.falsePerHour * (pool.watchedSeconds / 3600);
  const leastCaught =
    pool.caught[best.setting]! - Math.max(1, Math.floor(SHARE_GIVEN_UP * pool.visits + 1e-9));
  const caught = blurred(pool.caught, grid, CAUGHT_WEIGHT);
  const logFalse = blurred(
    blurred(
      pool.falseTriggers.map((n) => Math.log(n + UNSEEN_FALSE)),
      grid,
      FALSE_WEIGHT,
    ),
    grid,
    FALSE_WEIGHT,
  );
  const worth = new Float64Array(pool.size).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < pool.size; i++) {
    if (pool.caught[i]! < leastCaught) continue;
    const falseTriggers = pool.falseTriggers[i]!;
    const candidate = best.kept
      ? keeps(falseTriggers, pool.watchedSeconds, allowance)
      : falseTriggers <= pool.falseTriggers[best.setting]!;
    if (!candidate) continue;
    const expectedFalse = Math.exp(logFalse[i]!);
    worth[i] = caught[i]! / visits - PRICE * expectedOvershoot(expectedFalse, allowed);
  }
  const setting = deepest(worth, grid);
  return {
    setting,
    best: best.setting,
    kept: best.kept,
    expected: {
      caught: Math.min(pool.visits, Math.max(0, caught[setting]!)),
      falseTriggers: Math.max(0, Math.exp(logFalse[setting]!) - UNSEEN_FALSE),
    },
  };
}

/**
 * Of the settings that are worth most, the one farthest from where that ends: the middle of a plateau, from which every
 * dial may be a notch off. Found by taking away, again and again, those with a neighbour that is not among them.
 */
function deepest(worth: Float64Array, grid: Grid): number {
  const most = worth.reduce((a, b) => Math.max(a, b));
  const level = (setting: number) => worth[setting]! >= most - 1e-9;
  let inside = new Set(Array.from(worth.keys()).filter(level));
  const isInside = (setting: number | null) => setting !== null && inside.has(setting);
  const surrounded = (setting: number) =>
    grid.dials.every(
      ({ positions }, d) =>
        positions.length === 1 ||
        (isInside(grid.turned(setting, d, -1)) && isInside(grid.turned(setting, d, 1))),
    );
  for (;;) {
    const inner = new Set([...inside].filter(surrounded));
    if (inner.size === 0) return [...inside].reduce((a, b) => Math.min(a, b));
    inside = inner;
  }
}

/**
 * Expected part by which false triggers exceed what is allowed, E[(X / allowed - 1)+], where the long-run number X is
 * log-normal about `mean` with the variance of a count that scatters SCATTER times as much as Poisson.
 */
function expectedOvershoot(mean: number, allowed: number): number {
  const limit = Math.max(allowed, UNSEEN_FALSE);
  const spread = Math.sqrt(Math.log(1 + SCATTER / Math.max(mean, UNSEEN_FALSE)));
  const z = (Math.log(mean / limit) - spread ** 2 / 2) / spread;
  return (mean / limit) * normalBelow(z + spread) - normalBelow(z);
}

/** P(Z <= z) for a standard normal Z; Abramowitz & Stegun 1964, 7.1.26, to 1.5e-7. */
function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const above = (series * Math.exp(-x * x)) / 2;
  return z < 0 ? above : 1 - above;
}
