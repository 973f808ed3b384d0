import { z } from 'zod';
import { hint, Problem } from '../base/problem.js';
import { short } from '../base/text.js';
import type { Polygon } from '../engine/mask.js';
import type { Camera } from './description.js';
import {
  dialFor,
  type EngineValue,
  engineValues,
  middleOf,
  positionOf,
  positions,
  reach,
  senseless,
  valueAt,
} from './dials.js';
import { refuseOffFrame } from './on-frame.js';

/** One group of settings as the engine takes them. */
export interface Settings {
  /** Grey levels, above 0 and up to 255; need not be whole. */
  threshold: number;
  /** Pixels at the analysis size. */
  minimumArea: number;
  /** Pixels at the analysis size. */
  mostChanged: number;
  /** Analysed frames in a row. */
  persistence: number;
  /** Seconds. */
  cooldown: number;
}

/** Settings together with what belongs to a file of them. */
export interface ResolvedSettings extends Settings {
  /** Replaces the mask of the clip's labels; undefined: the labels' mask holds. */
  mask?: Polygon[];
  warnings: string[];
  /** Values that the file does not give, each at what it is then. */
  leftOut?: EngineValue[];
}

const point = z.tuple([z.number(), z.number()]);

/** settings.json: engine values, or dial positions under "controls". */
export const settingsSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  threshold: z
    .number()
    .optional()
    .describe('grey levels, above 0 and up to 255, by which a pixel must differ'),
  minimumArea: z.number().optional().describe('pixels at the analysis size that must change'),
  mostChanged: z
    .number()
    .optional()
    .describe('pixels at the analysis size that may change; left out: the whole frame'),
  persistence: z.number().optional().describe('analysed frames in a row; left out: 1'),
  cooldown: z.number().optional().describe('seconds from a trigger until it can fire again'),
  controls: z
    .record(z.string(), z.number())
    .optional()
    .describe("positions of the camera's dials by their names, instead of the values that they set"),
  mask: z
    .array(z.array(point).min(3))
    .optional()
    .describe("polygons not watched, x, y as fractions of the frame; left out: those of the clip's labels"),
});

/** What stands in a settings file. */
export type SettingsFile = z.output<typeof settingsSchema>;

/**
 * Engine values from a settings file's content; `file` is only for messages.
 * @throws Problem 'bad-settings' or 'bad-field'
 */
export function resolveSettings(given: SettingsFile, camera: Camera, file: string): ResolvedSettings {
  refuseOffFrame(given.mask, `${file}: mask`);
  const byDials = valuesOfDials(given, camera, file);
  const { values: written, warnings } = valuesWritten(given, camera, file);
  const values = { ...byDials.values, ...written };
  const need = (name: EngineValue) => values[name] ?? usualOrRefused(name, given, camera, file);
  const settings: Settings = {
    threshold: need('threshold'),
    minimumArea: need('minimumArea'),
    mostChanged: need('mostChanged'),
    persistence: need('persistence'),
    cooldown: need('cooldown'),
  };
  if (settings.minimumArea > settings.mostChanged) {
    const told = (name: EngineValue) => byDials.asWritten[name] ?? `${name} ${settings[name]}`;
    warnings.push(`${file}: ${told('minimumArea')} is above ${told('mostChanged')}: this never fires`);
  }
  const left = engineValues.filter((name) => values[name] === undefined);
  return {
    ...settings,
    ...(given.mask && { mask: given.mask }),
    warnings,
    ...(left.length > 0 && { leftOut: left }),
  };
}

type Values = Partial<Record<EngineValue, number>>;

function refused(file: string, path: string, text: string): Problem {
  return new Problem('bad-settings', `${file}: ${path}: ${text}`);
}

/** What positions of dials set, and as messages name it: a value is set by a dial or written, not both. */
function valuesOfDials(
  given: SettingsFile,
  camera: Camera,
  file: string,
): { values: Values; asWritten: Partial<Record<EngineValue, string>> } {
  const values: Values = {};
  const asWritten: Partial<Record<EngineValue, string>> = {};
  for (const [name, position] of Object.entries(given.controls ?? {})) {
    const path = `controls.${short(name)}`;
    // Only a dial of that name: every object has a 'constructor'.
    const dial = Object.hasOwn(camera.controls, name) ? camera.controls[name] : undefined;
    if (!dial) {
      const known = Object.keys(camera.controls);
      throw refused(
        file,
        path,
        `${short(camera.name)} has no such dial${hint(name, known)}; its dials are ${known.map((dial) => short(dial)).join(', ') || 'none'}${middleText(camera)}`,
      );
    }
    if (given[dial.sets] !== undefined) {
      throw refused(
        file,
        dial.sets,
        `expected nothing, because ${path} already sets it; leave one of the two out`,
      );
    }
    const at = positions(dial).find((p) => Math.abs(p - position) <= 1e-9 * Math.max(1, Math.abs(p)));
    if (at === undefined) {
      throw refused(
        file,
        path,
        `expected ${reach(dial)}, the positions the dial has, found ${position}${middleText(camera)}`,
      );
    }
    const value = valueAt(dial, at);
    values[dial.sets] = value;
    asWritten[dial.sets] = `${path} ${at}${at === value ? '' : ` (${dial.sets} ${value})`}`;
  }
  return { values, asWritten };
}

/** Values that are written themselves, and which of them no dial can be set to. */
function valuesWritten(
  given: SettingsFile,
  camera: Camera,
  file: string,
): { values: Values; warnings: string[] } {
  const values: Values = {};
  const warnings: string[] = [];
  const frame = frameOf(camera);
  for (const name of engineValues) {
    const value = given[name];
    if (value === undefined) continue;
    const expected = senseless(name, value, frame);
    if (expected) throw refused(file, name, `expected ${expected}, found ${value}`);
    values[name] = value;
    const dial = dialFor(camera.controls, name);
    if (dial ? positionOf(dial[1], value) === undefined : value !== usual(name, frame)) {
      const why = dial ? `no position of the dial '${short(dial[0])}' gives it` : 'no dial sets it';
      warnings.push(
        `${file}: ${name} ${value} is replayed, but cannot be set on ${short(camera.name)}: ${why}`,
      );
    }
  }
  return { values, warnings };
}

/** @throws Problem where it must be given, naming the dial that sets it if dials are what the file holds */
function usualOrRefused(name: EngineValue, given: SettingsFile, camera: Camera, file: string): number {
  const value = usual(name, frameOf(camera));
  if (value !== undefined) return value;
  const dial = dialFor(camera.controls, name);
  if (!dial || !given.controls) {
    throw refused(file, name, `expected a value, found nothing; add "${name}"`);
  }
  const path = `controls.${short(dial[0])}`;
  throw refused(file, path, `expected a value, found nothing; add ${path} (${reach(dial[1])})`);
}

/** Pixels at the analysis size. */
function frameOf({ analysis: { width, height } }: Camera): number {
  return width * height;
}

/** What could stand in the file instead, to begin with; empty where the camera has no dials. */
function middleText({ controls }: Camera): string {
  const dials = Object.entries(middleOf(controls)).map(
    ([name, at]) => `${JSON.stringify(short(name))}: ${at}`,
  );
  return dials.length === 0 ? '' : `; with every dial at its middle: "controls": { ${dials.join(', ')} }`;
}

/** What a value is when a settings file leaves it out; undefined where it must be given. */
function usual(name: EngineValue, frame: number): number | undefined {
  if (name === 'mostChanged') return frame;
  return name === 'persistence' ? 1 : undefined;
}
