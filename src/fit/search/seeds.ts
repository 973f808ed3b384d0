import type { AreaKind, Columns } from '../../sweep/columns.js';
import { findRuns, firstAt, march, roomForRuns } from '../../sweep/march.js';
import type { Wanted } from '../fired/wanted.js';
import { closeness } from '../score/agreement.js';
import type { Values } from '../score/scores.js';
import type { Axes } from './axes.js';

/** Of the fired times, sorted by how much had changed at each: a minimum area that all but so many of them reach. */
const LEFT_OUT = [0, 0.02, 0.05, 0.1];

/**
 * The values that explain the fired times best among those that the times themselves propose: where a camera fired, at least its
 * minimum area had changed for as many frames as it asks, so that at each level the least of these is where its minimum area
 * begins. Steps of a grid pass over such a place, for it may be a few pixels wide.
 * @param columns for each kind areas by level and frame; at the levels of `axes`
 * @returns null where nothing changed at the fired times
 */
export function seedOf(
  columns: Record<AreaKind, Columns>,
  times: Float64Array,
  { kinds, levels, persistences, cooldowns }: Omit<Axes, 'areas'>,
  wanted: Wanted,
): { values: Values; own: number } | null {
  const runs = roomForRuns(times.length);
  const predicted = new Float64Array(times.length);
  const { fired, tolerance, from, to } = wanted;
  let best: { values: Values; own: number } | null = null;
  for (const kind of kinds) {
    for (const level of levels) {
      const column = columns[kind].get(level)!;
      for (const persistence of persistences) {
        for (const area of areasProposed(column, times, persistence, wanted)) {
          findRuns(column, null, area, 0, runs);
          for (const cooldown of cooldowns) {
            let count = 0;
            march(runs, times, persistence, cooldown, (frame) => {
              const time = times[frame]!;
              if (time >= from && time < to) predicted[count++] = time;
            });
            const own = closeness(fired, predicted, count, tolerance);
            if (own > (best?.own ?? 0)) best = { values: { kind, level, area, persistence, cooldown }, own };
          }
        }
      }
    }
  }
  return best;
}

function areasProposed(
  column: ArrayLike<number>,
  times: Float64Array,
  persistence: number,
  { fired, tolerance: { free } }: Wanted,
): number[] {
  const reached = fired.map((time) => reachedAt(column, times, persistence, time, free)).sort();
  const areas = LEFT_OUT.map((share) => reached[Math.floor(share * reached.length)] ?? 0);
  return [...new Set(areas)].filter((area) => area >= 1);
}

/** How much changed for so many frames in a row at a time, or as little beside it as nobody can tell apart. */
function reachedAt(
  column: ArrayLike<number>,
  times: Float64Array,
  persistence: number,
  time: number,
  free: number,
): number {
  let most = 0;
  for (let frame = firstAt(times, time - free, 0); frame < times.length; frame++) {
    if (times[frame]! > time + free) break;
    if (frame < persistence - 1) continue;
    let least = column[frame]!;
    for (let back = 1; back < persistence; back++) least = Math.min(least, column[frame - back]!);
    most = Math.max(most, least);
  }
  return most;
}
