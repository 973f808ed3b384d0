import type { ColumnSource } from '../../sweep/columns.js';
import { findRuns, march, roomForRuns } from '../../sweep/march.js';
import { offsetsOf, type Told } from '../fired/told.js';
import type { Axes } from './axes.js';
import { bestApart, OffsetFinder, type OffsetTried } from './offsets.js';

/** Offsets that are looked into further. */
const MOST_OFFSETS = 3;
/** Of the best one's share: what meets fewer is no candidate. */
const NEAR_ENOUGH = 0.85;
/** So many triggers for each that was told are of a camera that fires at anything. */
const TOO_MANY = 4;

/**
 * Where on the clip the told times may lie: by what fires in the clip under many settings, whichever of these are right.
 * @param window seconds that a predicted and a told time may lie apart
 */
export async function offsetsFor(
  sources: readonly ColumnSource[],
  times: Float64Array,
  told: Told,
  seconds: number,
  axes: Axes,
  window: number,
): Promise<OffsetTried[]> {
  const { lowest, highest } = offsetsOf(told, seconds);
  const finder = new OffsetFinder(Float64Array.from(told.times), lowest, highest, window);
  const runs = roomForRuns(times.length);
  const predicted = new Float64Array(times.length);
  const levels = axes.levels.filter((_, i) => i % 2 === 0);
  const cooldowns = axes.cooldowns.slice(-2);
  const tried: OffsetTried[] = [];
  for (const source of sources) {
    const columns = await source.bothColumns(levels);
    for (const kind of axes.kinds) {
      for (const level of levels) {
        for (const area of axes.areas) {
          findRuns(columns[kind].get(level)!, null, area, 0, runs);
          for (const cooldown of runs.count === 0 ? [] : cooldowns) {
            let count = 0;
            march(runs, times, 1, cooldown, (frame) => {
              predicted[count++] = times[frame]!;
            });
            if (count <= TOO_MANY * told.times.length) tried.push(finder.best(predicted, count));
          }
        }
      }
    }
  }
  const best = bestApart(tried, 2 * window, MOST_OFFSETS);
  return best.filter(({ share }) => share >= NEAR_ENOUGH * best[0]!.share);
}
