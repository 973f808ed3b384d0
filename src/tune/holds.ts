import type { Grid } from '../sweep/grid.js';
import { countTimes } from '../weather/off.js';
import { isBetterLeft } from './doubts.js';
import { type Goal, isWithin } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import type { SimulatedSweep } from './weather.js';

/**
 * Whether settings chosen for simulated weather would stay, and within the goal where they are, did all settings alike fire falsely
 * as seldom and as often as the ranges beside drawings leave open. That one setting is further off than another is not tried.
 * @param setting what is recommended for these sweeps as simulated
 * @param sweeps that it was chosen by
 * @returns null where any was held against no drawing
 */
export function holdsWithin(
  setting: number,
  sweeps: readonly SimulatedSweep[],
  grid: Grid,
  goal: Goal,
): boolean | null {
  const offs = sweeps.flatMap(({ off }) => off ?? []);
  if (offs.length < sweeps.length || offs.length === 0) return null;
  const keeps = ({ falseTriggers, watchedSeconds }: Pool) =>
    isWithin(falseTriggers[setting]!, watchedSeconds, goal);
  const pool = poolOf(sweeps.map(({ counts }) => counts));
  const kept = keeps(pool);
  return (['low', 'high'] as const).every((end) => {
    const then = sweeps.map(({ counts }, i) => timesAsOften(counts, offs[i]![end]));
    const sumOf = (name: keyof FalseCounts) =>
      pool[name].map((_, setting) => then.reduce((sum, counts) => sum + counts[name][setting]!, 0));
    const often = { ...pool, falseTriggers: sumOf('falseTriggers'), falseSquares: sumOf('falseSquares') };
    return !isBetterLeft(setting, often, grid, goal) && (!kept || keeps(often));
  });
}

type FalseCounts = Record<'falseTriggers' | 'falseSquares', ArrayLike<number>>;

/**
 * False triggers of every setting so many times as often, none of them some: bouts are as large as before, only more or fewer, and
 * of one trigger each where there was none.
 */
export function timesAsOften(
  { falseTriggers, falseSquares }: FalseCounts,
  times: number,
): Record<keyof FalseCounts, Float64Array> {
  const then = Float64Array.from(falseTriggers, (count) => countTimes(count, times));
  return {
    falseTriggers: then,
    falseSquares: then.map((often, setting) =>
      falseTriggers[setting] === 0 ? often : (falseSquares[setting]! * often) / falseTriggers[setting]!,
    ),
  };
}
