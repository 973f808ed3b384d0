import type { AreaKind } from './columns.js';
import type { Grid } from './grid.js';

/** What a camera brings to the sweep besides its dials. */
export interface SweepCamera {
  area: AreaKind;
  /** Pixels of the whole frame. */
  framePixels: number;
  /** Seconds. */
  busyOf(cooldown: number): number;
  levelOf(threshold: number): number;
}

/** Settings of a grid that fire at the very same frames, for all that tells them apart comes to the same. */
export interface SettingsGroup {
  /** Their numbers in the grid. */
  settings: readonly number[];
  /** The smallest whole difference that counts as changed. */
  level: number;
  minimumArea: number;
  mostChanged: number;
  persistence: number;
  /** Seconds for which the camera is busy from a trigger on. */
  busy: number;
}

/** Groups of one level to which the same frames are active. */
export interface SameActive {
  minimumArea: number;
  mostChanged: number;
  groups: SettingsGroup[];
}

/** Every setting of a grid in one group, by level. */
export function groupByLevel(grid: Grid, camera: SweepCamera): Map<number, SameActive[]> {
  const levels = new Map<number, SameActive[]>();
  const actives = new Map<string, SameActive>();
  const groups = new Map<string, SettingsGroup & { settings: number[] }>();
  for (let setting = 0; setting < grid.size; setting++) {
    const { threshold, minimumArea, mostChanged, persistence, cooldown } = grid.settingsAt(setting);
    const level = camera.levelOf(threshold);
    const busy = camera.busyOf(cooldown);
    const activeKey = `${level} ${minimumArea} ${mostChanged}`;
    const groupKey = `${activeKey} ${persistence} ${busy}`;
    const known = groups.get(groupKey);
    if (known) {
      known.settings.push(setting);
      continue;
    }
    const group = { settings: [setting], level, minimumArea, mostChanged, persistence, busy };
    groups.set(groupKey, group);
    const active = actives.get(activeKey);
    if (active) {
      active.groups.push(group);
      continue;
    }
    const fresh = { minimumArea, mostChanged, groups: [group] };
    actives.set(activeKey, fresh);
    const ofLevel = levels.get(level);
    if (ofLevel) ofLevel.push(fresh);
    else levels.set(level, [fresh]);
  }
  return levels;
}
