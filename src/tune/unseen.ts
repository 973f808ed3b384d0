import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import type { Goal } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import {
  type FalsePrediction,
  type LeftOut,
  predictFalse,
  predictRecall,
  type RecallPrediction,
} from './predict.js';
import { FEWEST_TO_TELL } from './tells.js';

/** What may be expected on footage not seen: 90 % predictions, null where there is too little to tell. */
export interface Unseen {
  how: 'leave one clip out' | 'blocks of time' | 'too little to tell';
  recall: RecallPrediction | null;
  falsePerHour: FalsePrediction | null;
  /** About how many more visits to label; 0 where there are enough, and where what is missing is a second clip. */
  moreVisits: number;
}

/** A recall that may be anything within so much says nothing. */
const WIDEST = 0.7;

/**
 * A rule that chooses among the settings of a grid by the counts pooled from some footage.
 * @param leftOut what is not in the pool, so that it can be left out of whatever else the rule goes by
 */
export type Chooser = (pool: Pool, grid: Grid, goal: Goal, leftOut: SweepCounts) => { setting: number };

/** A clip under every setting, as a whole and block by block. */
interface Blocks {
  whole: SweepCounts;
  blocks: readonly SweepCounts[];
}

/** What is to be expected of a setting on footage not seen, as `expectUnseen` tells it; where that leaves open nearly anything, too little to tell. */
export function unseenOf(
  clips: readonly Blocks[],
  setting: number,
  grid: Grid,
  goal: Goal,
  choose: Chooser,
): Unseen {
  const visits = visitsIn(unitsOf(clips));
  const expected = expectUnseen(clips, setting, grid, goal, choose);
  if (!expected) return tooLittle(Math.max(0, FEWEST_TO_TELL - visits));
  const width = expected.recall.high - expected.recall.low;
  // The width falls as the square root of the visits.
  if (width > WIDEST) return tooLittle(Math.ceil(visits * ((width / WIDEST) ** 2 - 1)));
  return { how: clips.length > 1 ? 'leave one clip out' : 'blocks of time', ...expected, moreVisits: 0 };
}

/**
 * What to expect of a setting on footage not seen, chosen by `choose` from all clips together, however wide that is. Each clip,
 * or each block of time where there is one clip only, is left out in turn, the choice is made anew without it, and what that
 * choice does on it is counted, visits caught by luck included, for what is foretold is the score on it; to be sure of an
 * allowance the setting itself is tried on it. Single triggers are no units: they come in bunches, and a windy clip differs
 * from a calm one as a whole.
 * @returns null: there are fewer visits than it takes to tell, or nothing to leave out
 */
export function expectUnseen(
  clips: readonly Blocks[],
  setting: number,
  grid: Grid,
  goal: Goal,
  choose: Chooser,
): { recall: RecallPrediction; falsePerHour: FalsePrediction | null } | null {
  const units = unitsOf(clips);
  if (visitsIn(units) < FEWEST_TO_TELL || units.length < 2) return null;

  // How surely an allowance is kept depends on how much was seen: what is chosen from less is another thing.
  const isFixed = goal.kind === 'allowance' && goal.sure !== undefined;
  const leftOut: LeftOut[] = units.map((unit, i) => {
    const others = poolOf(units.filter((_, j) => j !== i));
    const chosen = isFixed ? setting : choose(others, grid, goal, unit).setting;
    return {
      visits: unit.truth.visits.length,
      caught: unit.caught[chosen]!,
      falseTriggers: unit.falseTriggers[chosen]!,
      falseSquares: unit.falseSquares[chosen]!,
      watchedHours: unit.truth.watchedSeconds / 3600,
    };
  });
  const own = poolOf(units);
  return {
    recall: predictRecall(leftOut, own.caught[setting]!),
    falsePerHour: own.watchedSeconds > 0 ? predictFalse(leftOut, own.falseTriggers[setting]!) : null,
  };
}

function unitsOf(clips: readonly Blocks[]): readonly SweepCounts[] {
  return clips.length > 1 ? clips.map(({ whole }) => whole) : (clips[0]?.blocks ?? []);
}

function visitsIn(units: readonly SweepCounts[]): number {
  return units.reduce((n, { truth }) => n + truth.visits.length, 0);
}

function tooLittle(moreVisits: number): Unseen {
  return { how: 'too little to tell', recall: null, falsePerHour: null, moreVisits };
}
