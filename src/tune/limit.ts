import { wilson } from '../score/intervals.js';
import type { SweepCounts } from '../sweep/counts.js';
import { type Goal, isWithin, visitsGiven } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import { FEWEST_TO_TELL } from './tells.js';

/** Share of what the best settings give in full light, below which the camera counts as blind. */
const OF_USE_FROM = 0.5;
/** Visits that the best settings within the goal must catch as recorded for a limit to be told. */
export const FEWEST_CAUGHT = FEWEST_TO_TELL / 2;
/** Lux: tried first, two stops apart; no darker and no brighter than these. */
const FIRST = [5, 1.25, 0.31];
const DARKEST = 0.02;
const BRIGHTEST = 320;
/** Two stops. */
const FAR = 4;

/** How the best settings for one light do in it. */
export interface LightLevel {
  lux: number;
  /** Visits that they catch, not by luck, nor by noise. */
  caught: number;
  /** What they give as a share of what the best give in full light, with its 90 % interval. */
  share: number;
  low: number;
  high: number;
}

/** Down to which light the camera is of use: to one stop, on simulated light. */
export interface LimitOfUse {
  /** Visits in the sample that light was taken from. */
  visits: number;
  /** Visits that the best settings within the goal catch in it as recorded. */
  inFullLight: number;
  /** Brightest first. */
  levels: LightLevel[];
  tells: 'a limit' | 'no limit' | 'too little';
  /**
   * The darkest light of use, lux, and the range that the limit lies in, 90 % by the number of visits alone: from the brightest
   * light that surely fails up to the darkest that is surely of use. Without a value no light that was tried is of use; `low`
   * null: none surely fails; `high` null: none is surely of use.
   */
  lux: { value: number | null; low: number | null; high: number | null };
}

/** Counts of the sample, pooled over clips, in one light. */
export interface LitPool {
  lux: number;
  counts: readonly SweepCounts[];
  /** The same in which nothing moves, so that noise alone fires. */
  still: readonly SweepCounts[];
}

/**
 * What the settings that give most within the goal give: visits they catch of their own; where settings are chosen by worth,
 * less what their photos of nothing come to. Settings that are worth nothing are not within it.
 */
function bestGiven(pool: Pool, goal: Goal): { own: number; given: number } {
  let best = { own: 0, given: 0 };
  for (let i = 0; i < pool.size; i++) {
    if (!isWithin(pool.falseTriggers[i]!, pool.watchedSeconds, goal)) continue;
    const given = visitsGiven(pool.own[i]!, pool.falseTriggers[i]!, goal);
    if (given > best.given) best = { own: pool.own[i]!, given };
  }
  return best;
}

/**
 * The limit of use: the light below which no setting within the goal gives half of what the best gives in full light.
 * @param full the sample as recorded
 * @param darker the same in less light, in any order
 */
export function limitOfUse(full: readonly SweepCounts[], darker: readonly LitPool[], goal: Goal): LimitOfUse {
  const pool = poolOf(full);
  const best = bestGiven(pool, goal);
  const levels = [...darker]
    .sort((a, b) => b.lux - a.lux)
    .map((lit): LightLevel => levelOf(lit.lux, bestGiven(seenIn(lit), goal), best.given, pool.visits));
  const base = { visits: pool.visits, inFullLight: best.own, levels };
  if (pool.visits < FEWEST_TO_TELL || best.own < FEWEST_CAUGHT || levels.length === 0) {
    return { ...base, tells: 'too little', lux: { value: null, low: null, high: null } };
  }
  const value = darkestBefore(levels, ({ share }) => share >= OF_USE_FROM);
  return {
    ...base,
    tells: value === levels.at(-1)!.lux ? 'no limit' : 'a limit',
    lux: {
      value,
      low: levels.find(({ high }) => high < OF_USE_FROM)?.lux ?? null,
      high: darkestBefore(levels, ({ low }) => low >= OF_USE_FROM),
    },
  };
}

/**
 * The counts of a light with only those visits as caught for themselves that noise alone would not have caught: in the dark a
 * sensitive camera fires all the time, and so at every visit, whether there is an animal or not.
 */
function seenIn({ counts, still }: LitPool): Pool {
  const pool = poolOf(counts);
  const own = pool.own.map((_, setting) =>
    counts.reduce((sum, unit, u) => sum + beyondNoise(unit, still[u]!, setting), 0),
  );
  return { ...pool, own };
}

function beyondNoise(counts: SweepCounts, still: SweepCounts, setting: number): number {
  return counts.truth.visits.reduce(
    (n, _, visit) => n + (counts.caughtOwn(setting, visit) && !still.caughtVisit(setting, visit) ? 1 : 0),
    0,
  );
}

function levelOf(
  lux: number,
  { own, given }: { own: number; given: number },
  full: number,
  visits: number,
): LightLevel {
  const range = wilson(own, visits);
  const spent = own - given;
  // Less light gives no more than full light does, but by luck.
  const shareOf = (caught: number) => (full > 0 ? Math.min(1, Math.max(0, caught - spent) / full) : 0);
  return {
    lux,
    caught: own,
    share: shareOf(own),
    low: shareOf((range?.low ?? 0) * visits),
    high: shareOf((range?.high ?? 1) * visits),
  };
}

/** The darkest light before the first that does not pass, from the brightest down. */
function darkestBefore(levels: readonly LightLevel[], passes: (level: LightLevel) => boolean): number | null {
  const first = levels.findIndex((level) => !passes(level));
  return (first < 0 ? levels.at(-1) : levels[first - 1])?.lux ?? null;
}

/**
 * Which light to try next: first some two stops apart, then darker or brighter until the limit is between two of them, then
 * halfway in stops. Empty where it is known to a stop, or is not to be found.
 * @param recorded lux that the sample was recorded in
 */
export function luxToTry({ levels }: Pick<LimitOfUse, 'levels'>, recorded: number): number[] {
  if (levels.length === 0) return FIRST.filter((lux) => lux < recorded);
  const passed = darkestBefore(levels, ({ share }) => share >= OF_USE_FROM);
  const failed = levels.find(({ share }) => share < OF_USE_FROM)?.lux;
  if (failed === undefined) {
    const darker = levels.at(-1)!.lux / FAR;
    return darker >= DARKEST ? [darker] : [];
  }
  if (passed === null) {
    const brighter = levels[0]!.lux * FAR;
    return brighter < recorded && brighter <= BRIGHTEST ? [brighter] : [];
  }
  return passed / failed > 2.5 ? [Math.sqrt(passed * failed)] : [];
}
