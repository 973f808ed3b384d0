import { PROJECT } from '../files/project.js';
import { shippedCameras } from '../files/shipped-cameras.js';
import { USUAL_WORTH } from '../jobs/tune/wanted.js';
import { MOST_ALLOWED } from '../tune/goal.js';
import { atLeastNone, between } from './numbers.js';
import { onlyCamera } from './only-camera.js';

/*
 * Options that several verbs take: the same name, meaning and default wherever they stand.
 */

export const JSON_OUT = ['--json', 'one JSON document on standard output'] as const;

const SHIPPED = `camera.json, or the name of one that ships (${shippedCameras.join(', ')})`;

/** Of a verb that replays clips. */
export const CAMERA = [
  '--camera <file>',
  `${SHIPPED}; default: the project's, else the demo's`,
  onlyCamera,
] as const;

/** Of a verb that a project tells the camera of, but no clips. */
export const CAMERA_ALONE = [
  '--camera <file>',
  "camera.json, or the name of one that ships; default: that of the project in this folder, else the demo's",
  onlyCamera,
] as const;

export const SITE = [
  '--site <name>',
  `only this spot of the project (${PROJECT} in this folder, or in the one that is named)`,
] as const;

export const SETTINGS = [
  '--settings <file>',
  'settings.json: engine values, or dial positions under "controls"; default: those in use in the project',
] as const;

/** What stands for clips where they are named, and where they are left out. */
export const CLIPS_OR_PROJECT = `clip folders, or scene files; default: those of ${PROJECT} in this folder, or in the folder that is named`;

export const WORTH = [
  '--worth <n>',
  `photos of nothing that one more visit is worth looking through (default: ${USUAL_WORTH})`,
  between(0.1, MOST_ALLOWED, 'a number of photos'),
] as const;

export const PHOTOS_PER_DAY = [
  '--photos-per-day <n>',
  'photos of nothing to put up with, per day out; needs --hours-out',
  atLeastNone,
] as const;

export const RECORDED_ONLY = ['--recorded-only', 'do not simulate weather that nobody recorded'] as const;

export const SEED = [
  '--seed <text>',
  'seed of simulated weather: the same text gives the same weather',
  '1',
] as const;

export const NOISE_FROM = [
  '--noise-from <clip>',
  "a clip of the same camera on which to measure its sensor's noise; default: each clip itself, as far as it can tell",
] as const;
