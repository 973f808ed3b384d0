import type { ColumnSource } from '../../sweep/columns.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { Window } from './window.js';

/** For each level the largest area that as many frames in a row as the camera wants all reached. */
export type Reach = ReadonlyMap<number, number>;

/** Bytes of columns held at once. */
const COLUMN_BUDGET = 64 * 2 ** 20;

/**
 * How large a minimum area each visit would have satisfied at each level, had the camera been idle. Frames in which
 * more than mostChanged changed count as empty.
 */
export async function reachOf(
  { camera, settings, times }: ReplayedClip,
  columns: ColumnSource,
  windows: readonly Window[],
  levels: readonly number[],
): Promise<Reach[]> {
  const reach = windows.map(() => new Map<number, number>());
  if (windows.length === 0) return reach;
  const atOnce = Math.max(1, Math.floor(COLUMN_BUDGET / (8 * Math.max(1, times.length))));
  for (let i = 0; i < levels.length; i += atOnce) {
    const batch = levels.slice(i, i + atOnce);
    const both = await columns.bothColumns(batch);
    for (const level of batch) {
      const area = both[camera.area].get(level)!;
      const changed = both.changed.get(level)!;
      windows.forEach(({ catching }, w) => {
        const largest = (most: number, frame: number) =>
          Math.max(most, sustained(area, changed, frame, settings));
        reach[w]?.set(level, catching.reduce(largest, 0));
      });
    }
  }
  return reach;
}

function sustained(
  area: Uint32Array,
  changed: Uint32Array,
  frame: number,
  { persistence, mostChanged }: { persistence: number; mostChanged: number },
): number {
  if (frame < persistence - 1) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = frame - persistence + 1; k <= frame; k++) {
    least = Math.min(least, changed[k]! <= mostChanged ? area[k]! : 0);
  }
  return least;
}
