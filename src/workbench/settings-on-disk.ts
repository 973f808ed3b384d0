import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { parseJson } from '../base/json.js';
import { nearest, Problem } from '../base/problem.js';
import { engineValues } from '../camera/dials.js';
import { type SettingsFile, settingsSchema } from '../camera/settings.js';
import { readText } from '../files/read-json.js';

/** Settings are a few lines, with a mask a few hundred. */
const MOST_BYTES = 2 ** 20;
const FIELDS = ['controls', ...engineValues];
/** What stands at the top of our other files. */
const OTHERS = ['analysis', 'visits', 'frames', 'clips', 'sites', 'triggers'];

export interface SettingsFound {
  /** By their names without ending, in order. */
  settings: { name: string; settings: SettingsFile }[];
  /** What is wrong with those that are meant as settings, one line each. */
  problems: string[];
}

/**
 * Settings files of a folder. Files of other kinds are passed over; one that is meant as settings and has a fault is told of.
 * @param isOther whether a name is that of something else
 * @param check throws Problem for a file that may not be read
 */
export async function settingsIn(
  folder: string,
  isOther: (name: string) => boolean,
  check: (file: string) => Promise<void>,
): Promise<SettingsFound> {
  const found: SettingsFound = { settings: [], problems: [] };
  for (const name of (await readdir(folder)).sort()) {
    if (!name.endsWith('.json') || name.startsWith('.') || isOther(name)) continue;
    const file = join(folder, name);
    let text: string | null = null;
    try {
      await check(file);
      const info = await stat(file).catch(() => null);
      if (!info?.isFile() || info.size > MOST_BYTES) continue;
      text = await readText(file, 'settings');
      const settings = parseJson(text, file, settingsSchema, 'settings');
      found.settings.push({ name: name.replace(/\.json$/, ''), settings });
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      // Of what cannot be read nobody knows what it is meant as.
      if (text === null || isMeantAsSettings(text)) found.problems.push(error.message);
    }
  }
  return found;
}

/** By the fields at its top, near misses among them; of what is no JSON by any. */
function isMeantAsSettings(text: string): boolean {
  let given: unknown;
  try {
    given = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return (
      FIELDS.some((field) => text.includes(`"${field}"`)) &&
      !OTHERS.some((other) => text.includes(`"${other}"`))
    );
  }
  if (given === null || typeof given !== 'object' || Array.isArray(given)) return false;
  const fields = Object.keys(given);
  return (
    !fields.some((field) => OTHERS.includes(field)) &&
    fields.some((field) => nearest(field, FIELDS) !== undefined)
  );
}
