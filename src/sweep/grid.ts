import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import { type EngineValue, positions, valueAt } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';

/** One dial of the grid: its name, what it sets, and engine values position by position. */
export interface GridDial {
  name: string;
  sets: EngineValue;
  positions: number[];
  values: number[];
}

/** Settings beyond this many are refused: choosing among them by hand labels would mean nothing. */
const MOST_SETTINGS = 2_000_000;

/** Every combination of a camera's dial positions, numbered with the last dial turning fastest. */
export class Grid {
  readonly dials: readonly GridDial[];
  readonly size: number;
  private readonly base: Settings;
  private readonly strides: number[];

  constructor(camera: Camera, dials: readonly GridDial[] = dialsOf(camera)) {
    this.dials = dials;
    this.size = dials.reduce((n, dial) => n * dial.positions.length, 1);
    const frame = camera.analysis.width * camera.analysis.height;
    this.base = { threshold: 0, minimumArea: 0, mostChanged: frame, persistence: 1, cooldown: 0 };
    this.strides = dials.map((_, d) => dials.slice(d + 1).reduce((n, next) => n * next.positions.length, 1));
  }

  /** Where a dial stands in a setting, as a place in its list of positions. */
  placeOf(setting: number, dial: number): number {
    const count = this.dials[dial]?.positions.length ?? 1;
    return Math.floor(setting / (this.strides[dial] ?? 1)) % count;
  }

  /** Engine values of a setting. */
  settingsAt(setting: number): Settings {
    const settings = { ...this.base };
    this.dials.forEach((dial, d) => {
      settings[dial.sets] = dial.values[this.placeOf(setting, d)]!;
    });
    return settings;
  }

  /** Dial positions of a setting, in the camera's own units. */
  controlsAt(setting: number): Record<string, number> {
    return Object.fromEntries(
      this.dials.map((dial, d) => [dial.name, dial.positions[this.placeOf(setting, d)]!]),
    );
  }

  /** The setting one dial away by so many notches, or null beyond that dial's ends. */
  turned(setting: number, dial: number, notches: number): number | null {
    const place = this.placeOf(setting, dial) + notches;
    if (place < 0 || place >= (this.dials[dial]?.positions.length ?? 0)) return null;
    return setting + notches * (this.strides[dial] ?? 0);
  }

  /** The place of the dial that sets an engine value, or -1. */
  dialSetting(value: EngineValue): number {
    return this.dials.findIndex((dial) => dial.sets === value);
  }
}

/** The dials of a camera that can be tuned: they must leave no value open that a setting needs. */
export function dialsOf(camera: Camera): GridDial[] {
  for (const needed of ['threshold', 'minimumArea', 'cooldown'] as const) {
    if (!Object.values(camera.controls).some((dial) => dial.sets === needed)) {
      throw new Problem(
        'bad-settings',
        `${camera.name}: controls: expected a dial that sets ${needed}, found none; add one (a single entry in "choices" for a fixed value)`,
      );
    }
  }
  const dials = Object.entries(camera.controls).map(([name, dial]) => {
    const at = positions(dial);
    return { name, sets: dial.sets, positions: at, values: at.map((p) => valueAt(dial, p)) };
  });
  const size = dials.reduce((n, dial) => n * dial.positions.length, 1);
  if (size > MOST_SETTINGS) {
    throw new Problem(
      'bad-settings',
      `${camera.name}: controls: expected at most ${MOST_SETTINGS} combinations of dial positions, found ${size}; make the steps coarser`,
    );
  }
  return dials;
}

/** Fewer positions on each dial, ends kept, until at most `most` combinations are left. */
export function thinned(dials: readonly GridDial[], most: number): GridDial[] {
  const counts = dials.map((dial) => dial.positions.length);
  while (counts.reduce((n, c) => n * c, 1) > most && counts.some((c) => c > 1)) {
    const longest = counts.indexOf(Math.max(...counts));
    counts[longest] = counts[longest]! - 1;
  }
  return dials.map((dial, d) => {
    const count = counts[d]!;
    const last = dial.positions.length - 1;
    const keep = Array.from({ length: count }, (_, i) =>
      count === 1 ? Math.floor(last / 2) : Math.round((i * last) / (count - 1)),
    );
    return {
      ...dial,
      positions: keep.map((i) => dial.positions[i]!),
      values: keep.map((i) => dial.values[i]!),
    };
  });
}
