import { z } from 'zod';
import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { readCamera } from '../files/read-camera.js';
import { readJson } from '../files/read-json.js';
import { readSettings } from '../files/read-settings.js';
import { cameraFile } from '../files/shipped-cameras.js';
import { type Suite, settingsOf } from './suite.js';

/** Another camera and settings to hold a suite's own against. */
export interface Other {
  camera: Camera;
  settings: ResolvedSettings;
}

/**
 * Reads what a suite is to be held against: a camera file, a settings file, or one of each, told apart by content (only a
 * camera has "analysis"). What is not given is the suite's own; its dial positions then mean what the other camera's
 * dials give.
 * @throws Problem 'usage' for two of a kind, and whatever is wrong with a file
 */
export async function readOther(files: readonly string[], suite: Suite, own: Camera): Promise<Other> {
  const found: { camera?: string; settings?: string } = {};
  for (const given of files) {
    const file = await cameraFile(given);
    const kind = await kindOf(file);
    const earlier = found[kind];
    if (earlier !== undefined) {
      throw new Problem(
        'usage',
        `--against ${given}: expected at most one camera and one group of settings, found two files of ${kind === 'camera' ? 'cameras' : 'settings'}, because ${earlier} is one too; leave one out`,
      );
    }
    found[kind] = file;
  }
  const camera = found.camera === undefined ? own : await readCamera(found.camera);
  const settings =
    found.settings === undefined
      ? await settingsOf(suite, camera)
      : await readSettings(found.settings, camera);
  return { camera, settings };
}

async function kindOf(file: string): Promise<'camera' | 'settings'> {
  const content = await readJson(file, z.record(z.string(), z.unknown()), 'a camera description or settings');
  return 'analysis' in content ? 'camera' : 'settings';
}
