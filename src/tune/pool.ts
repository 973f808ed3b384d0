import { addCounts, type Counts } from '../score/score.js';
import type { SweepCounts } from '../sweep/counts.js';

/** Counts of several clips or blocks together, for every setting of a grid; indexed by the setting's number. */
export interface Pool {
  size: number;
  /** Clips or blocks. */
  units: number;
  visits: number;
  watchedSeconds: number;
  caught: Float64Array;
  /** Those not caught by luck, as far as that can be told: what settings are chosen by. */
  own: Float64Array;
  falseTriggers: Float64Array;
  /** The sizes of the bouts that false triggers come in, squared and added up. */
  falseSquares: Float64Array;
  /** Triggers of any verdict. */
  taken: Float64Array;
  countsAt(setting: number): Counts;
}

/** Adds up counts setting by setting; what is pooled must be of one grid. */
export function poolOf(units: readonly SweepCounts[]): Pool {
  const size = units[0]?.caught.length ?? 0;
  const pool = {
    size,
    units: units.length,
    visits: 0,
    watchedSeconds: 0,
    caught: new Float64Array(size),
    own: new Float64Array(size),
    falseTriggers: new Float64Array(size),
    falseSquares: new Float64Array(size),
    taken: new Float64Array(size),
    countsAt: (setting: number) => addCounts(units.map((unit) => unit.at(setting))),
  };
  for (const unit of units) {
    pool.visits += unit.truth.visits.length;
    pool.watchedSeconds += unit.truth.watchedSeconds;
    for (let i = 0; i < size; i++) {
      const falseTriggers = unit.falseTriggers[i]!;
      pool.caught[i]! += unit.caught[i]!;
      pool.own[i]! += unit.own[i]!;
      pool.falseTriggers[i]! += falseTriggers;
      pool.falseSquares[i]! += unit.falseSquares[i]!;
      pool.taken[i]! += falseTriggers + unit.trueTriggers[i]! + unit.ignoredTriggers[i]!;
    }
  }
  return pool;
}
