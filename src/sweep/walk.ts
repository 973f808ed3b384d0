import { Turns } from '../base/turns.js';
import type { BoxSource, ColumnSource } from './columns.js';
import type { Grid } from './grid.js';
import { groupByLevel, type SettingsGroup, type SweepCamera } from './groups.js';
import { findRuns, march, roomForRuns } from './march.js';

/** How much changed in each frame that is replayed, at the level of a group. */
export interface Seen {
  /** Of the camera's kind. */
  area: Uint32Array;
  /** All changed pixels; null where no setting of the grid sets a limit to them. */
  changed: Uint32Array | null;
  /** Of the camera's kind within the boxes of visits, by the rows of the outcomes; null where that is not told. */
  within: Uint32Array | null;
}

/**
 * Decides what is counted of a replay under every setting of a grid. For each group of settings, in no order to be relied
 * on, it is called so: `begin`, then `add` for each trigger in rising order, then `end`. Every setting is in one group.
 * `add` is called millions of times in a sweep, so it had better look up than work out.
 */
export interface SweepVisitor {
  /** @param seen the same frames and numbers as `add` has them; valid until `end` */
  begin(group: SettingsGroup, seen: Seen): void;
  /** The group fires at a frame, the first that is replayed being 0. */
  add(frame: number): void;
  end(group: SettingsGroup): void;
}

/** Frames that are replayed by themselves, from an idle camera, and who is told of it. */
export interface WalkedStretch {
  /** The first of the frames, among the analysed frames of the clip. */
  from: number;
  /** Their times, seconds. */
  times: Float64Array;
  visitor: SweepVisitor;
}

/** Bytes of columns held at once; more levels than fit are read in several passes. */
const COLUMN_BUDGET = 96 * 2 ** 20;

/**
 * Replays any number of stretches of one clip under every setting of a grid, exactly. Each combination of level and areas
 * is turned into runs of active frames once; each persistence and cooldown then costs its triggers, not its frames.
 */
export async function walkSettings(
  clip: ColumnSource & { times: Float64Array; within?: BoxSource | null },
  grid: Grid,
  camera: SweepCamera,
  stretches: readonly WalkedStretch[],
): Promise<void> {
  const byLevel = groupByLevel(grid, camera);
  const limitsChange = (active: { mostChanged: number }) => active.mostChanged < camera.framePixels;
  const needsChanged = camera.area === 'region' && [...byLevel.values()].flat().some(limitsChange);
  const bytes = clip.times.length * 4 * (needsChanged ? 2 : 1);
  const atOnce = Math.max(1, Math.floor(COLUMN_BUDGET / Math.max(1, bytes)));
  const levels = [...byLevel.keys()].sort((a, b) => a - b);
  const runs = roomForRuns(clip.times.length);
  const turns = new Turns();
  const all = stretches.map((one) => ({ ...one, fired: (frame: number) => one.visitor.add(frame) }));

  for (let i = 0; i < levels.length; i += atOnce) {
    const batch = levels.slice(i, i + atOnce);
    const both = needsChanged ? await clip.bothColumns(batch) : null;
    const areas = both ? both[camera.area] : await clip.columns(batch, camera.area);
    const changes = camera.area === 'changed' ? areas : both?.changed;
    const boxes = clip.within ? await clip.within.columns(batch) : null;
    for (const level of batch) {
      const within = boxes?.get(level) ?? null;
      for (const { from, times, visitor, fired } of all) {
        const part = (column: Uint32Array) => column.subarray(from, from + times.length);
        const area = part(areas.get(level)!);
        const changed = changes ? part(changes.get(level)!) : null;
        for (const active of byLevel.get(level)!) {
          if (turns.due) await turns.take();
          const limited = limitsChange(active) ? changed : null;
          findRuns(area, limited, active.minimumArea, active.mostChanged, runs);
          for (const group of active.groups) {
            visitor.begin(group, { area, changed, within });
            march(runs, times, group.persistence, group.busy, fired);
            visitor.end(group);
          }
        }
      }
    }
  }
}
