import type { Camera } from '../camera/description.js';
import { type ResolvedSettings, resolveSettings, settingsSchema } from '../camera/settings.js';
import { readJson } from './read-json.js';

/** Reads settings.json and turns it into engine values for one camera. */
export async function readSettings(file: string, camera: Camera): Promise<ResolvedSettings> {
  return resolveSettings(await readJson(file, settingsSchema, 'a group of settings'), camera, file);
}
