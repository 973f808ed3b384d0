import type { Camera } from '../../camera/description.js';
import {
  dialFor,
  type EngineValue,
  engineValues,
  positionOf,
  positions,
  valueAt,
} from '../../camera/dials.js';
import type { ResolvedSettings, Settings } from '../../camera/settings.js';
import { Grid, type GridDial } from '../../sweep/grid.js';
import type { SettingsOut } from '../diagnosis.js';

/** Settings that are tried at most, so that a camera with many fine dials costs no more than reading a clip. */
const MOST_SETTINGS = 200_000;

/** What a camera can be set to, seen from some settings. */
export interface NearGrid {
  /** Values that no dial sets are dials of one position, under the value's own name. */
  grid: Grid;
  /** The setting that the present ones are counted from: the nearest position of each dial. */
  start: number;
  /** False where only the nearest positions of the dials are in it. */
  whole: boolean;
}

/** The positions of a camera's dials around some settings; values without a dial stay as they are. */
export function gridNear(camera: Camera, settings: Settings): NearGrid {
  const all = engineValues.map((value) => dialOf(camera, settings, value));
  const counts = all.map((dial) => dial.positions.length);
  const size = () => counts.reduce((n, count) => n * count, 1);
  while (size() > MOST_SETTINGS) {
    const longest = counts.indexOf(Math.max(...counts));
    counts[longest] = Math.floor(counts[longest]! * 0.8);
  }
  const dials = all.map((dial, d) => nearestPositions(dial, settings[dial.sets], counts[d]!));
  const grid = new Grid(camera, dials);
  let start = 0;
  for (const dial of dials)
    start = start * dial.positions.length + nearestPlace(dial.values, settings[dial.sets]);
  return { grid, start, whole: dials.every((dial, d) => dial.positions.length === all[d]?.positions.length) };
}

/** How many notches lie between two settings, over all dials, and how many dials are turned. */
export function notchesApart({ grid, start }: NearGrid, setting: number): { notches: number; dials: number } {
  let notches = 0;
  let dials = 0;
  for (let d = 0; d < grid.dials.length; d++) {
    const turned = Math.abs(grid.placeOf(setting, d) - grid.placeOf(start, d));
    notches += turned;
    if (turned > 0) dials++;
  }
  return { notches, dials };
}

/** The place of the value nearest to another, the first of two equally near. */
export function nearestPlace(values: readonly number[], value: number): number {
  let best = 0;
  values.forEach((v, place) => {
    if (Math.abs(v - value) < Math.abs(values[best]! - value) - 1e-9) best = place;
  });
  return best;
}

/** Whether a list of numbers comes before another in order. */
export function comesBefore(a: readonly number[], b: readonly number[]): boolean {
  const differs = a.findIndex((x, i) => x !== b[i]);
  return differs >= 0 && a[differs]! < b[differs]!;
}

/** Settings in the form of a file; the mask they had stays. */
export function fileOf(settings: Settings, mask: ResolvedSettings['mask']): SettingsOut {
  const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
  return {
    version: 1,
    threshold,
    minimumArea,
    mostChanged,
    persistence,
    cooldown,
    ...(mask && { mask }),
  };
}

/** The camera's dials where they give these settings; null where they cannot. */
export function dialsGiving(camera: Camera, settings: Settings): Record<string, number> | null {
  const at: Record<string, number> = {};
  const frame = camera.analysis.width * camera.analysis.height;
  const fixed: Partial<Settings> = { mostChanged: frame, persistence: 1 };
  for (const value of engineValues) {
    const found = dialFor(camera.controls, value);
    if (!found && settings[value] === fixed[value]) continue;
    const position = found && positionOf(found[1], settings[value]);
    if (!found || position === undefined) return null;
    at[found[0]] = position;
  }
  return at;
}

function dialOf(camera: Camera, settings: Settings, value: EngineValue): GridDial {
  const found = dialFor(camera.controls, value);
  if (!found) return { name: value, sets: value, positions: [settings[value]], values: [settings[value]] };
  const [name, dial] = found;
  const at = positions(dial);
  return { name, sets: value, positions: at, values: at.map((p) => valueAt(dial, p)) };
}

function nearestPositions(dial: GridDial, value: number, count: number): GridDial {
  const from = nearestPlace(dial.values, value) - Math.floor(count / 2);
  const first = Math.max(0, Math.min(from, dial.positions.length - count));
  const cut = (list: number[]) => list.slice(first, first + count);
  return { ...dial, positions: cut(dial.positions), values: cut(dial.values) };
}
