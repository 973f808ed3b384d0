import type { Grid } from '../sweep/grid.js';
import { isBetterLeft } from './doubts.js';
import type { Goal } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import type { SimulatedSweep } from './weather.js';

/**
 * Whether settings chosen for simulated weather would stay, did all settings fire falsely as seldom and as often as the
 * ranges beside drawings leave open.
 * @param sweeps that they were chosen by
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
  const isWrong = (times: readonly number[]) => isBetterLeft(setting, firing(sweeps, times), grid, goal);
  const simulated = isWrong(offs.map(() => 1));
  return [offs.map(({ low }) => low), offs.map(({ high }) => high)].every(
    (times) => isWrong(times) === simulated,
  );
}

/** The sweeps together, as if each had fired falsely so many times as often. */
function firing(sweeps: readonly SimulatedSweep[], times: readonly number[]): Pool {
  const pool = poolOf(sweeps.map(({ counts }) => counts));
  const sumOf = (name: 'falseTriggers' | 'falseSquares') =>
    Float64Array.from({ length: pool.size }, (_, setting) =>
      sweeps.reduce((sum, { counts }, i) => sum + counts[name][setting]! * times[i]!, 0),
    );
  return { ...pool, falseTriggers: sumOf('falseTriggers'), falseSquares: sumOf('falseSquares') };
}
