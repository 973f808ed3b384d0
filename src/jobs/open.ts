import { stat } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { Problem } from '../base/problem.js';
import { coarseNotes } from '../camera/coarse.js';
import { defaultCamera } from '../camera/default.js';
import type { Camera } from '../camera/description.js';
import { type ResolvedSettings, resolveSettings, type SettingsFile } from '../camera/settings.js';
import { type Clip, openClip } from '../clip/open.js';
import { readCamera } from '../files/read-camera.js';
import { readSettings } from '../files/read-settings.js';
import { dialsOf } from '../sweep/grid.js';
import { type OpenPorts, openPorts, type Ports, tellingPlaces } from './ports.js';

/** A clip folder or a scene file by its path, or a clip that was opened before. */
export type ClipGiven = string | Clip;
/** A camera by its file, or a description that was read; left out: the default camera. */
export type CameraGiven = string | Camera | undefined;
/** Settings by their file, or what would stand in one, or settings that were read for this camera. */
export type SettingsGiven = string | SettingsFile | ResolvedSettings;

/**
 * Opens clips in the order given: what they are, when their frames were taken, their labels. A scene file stands for the
 * clip it draws, which is drawn when first needed.
 * @throws Problem for anything that is missing, broken or does not fit together
 */
export async function openClips(given: readonly ClipGiven[], ports: Ports = {}): Promise<Clip[]> {
  const open = await openPorts(ports);
  const told = tellingPlaces(
    open,
    given.map((one) => (typeof one === 'string' ? one : one.dir)),
  );
  const clips: Clip[] = [];
  for (const one of given) {
    const clip = typeof one === 'string' ? await openOne(one, told) : one;
    const twin = clips.find((other) => other.contentKey === clip.contentKey);
    if (twin && typeof one === 'string') {
      open.onWarning(
        `${one}: the same recording as ${twin.dir}, so it counts twice and nothing can be told from leaving one out`,
      );
    }
    clips.push(clip);
  }
  return clips;
}

async function openOne(path: string, ports: OpenPorts): Promise<Clip> {
  if (path.trim() === '') throw new Problem('usage', 'expected the name of a clip, found an empty one');
  ports.onPhase(`${path}: looking through the files`);
  const clip = (await isSceneFile(path)) ? await drawn(path, ports) : await openClip(path, ports);
  for (const warning of clip.warnings) ports.onWarning(warning);
  if (clip.manifest.simulated) {
    ports.onWarning(
      `${path}: weather was put onto it (clip.json: simulated), so that what is told of it is told of a simulation`,
    );
  }
  return { ...clip, dir: path };
}

async function isSceneFile(path: string): Promise<boolean> {
  if (basename(path) === 'clip.json') {
    throw new Problem(
      'usage',
      `${path}: expected the folder of a clip, found a file of one; name ${dirname(path)} instead`,
    );
  }
  return path.endsWith('.json') && (await stat(path).catch(() => null))?.isFile() === true;
}

/** The clip that a scene file stands for, its drawing kept in the cache. */
async function drawn(file: string, ports: OpenPorts): Promise<Clip> {
  // The renderer is loaded only where a scene is named: nobody's own clips need it.
  const { openScene, readScene } = await import('../scene/film.js');
  const scene = await readScene(file);
  return openScene(scene, { ...ports, onDrawing: () => ports.onPhase(`${file}: drawing`) });
}

/** The camera that is meant. */
export async function openCamera(given: CameraGiven): Promise<Camera> {
  return typeof given === 'string' ? readCamera(given) : (given ?? defaultCamera);
}

/**
 * A camera whose dials are to be tried, all of them.
 * @throws Problem naming its file where its dials leave open what they need not
 */
export async function openTunable(given: CameraGiven): Promise<Camera> {
  const camera = await openCamera(given);
  try {
    dialsOf(camera);
  } catch (error) {
    if (typeof given !== 'string' || !(error instanceof Problem)) throw error;
    throw new Problem(error.code, `${given}: ${error.message}`);
  }
  return camera;
}

/** Settings as engine values of a camera. What should be known of them is told when they are read, and only then. */
export async function openSettings(
  given: SettingsGiven,
  camera: Camera,
  { onWarning }: Pick<Ports, 'onWarning'> = {},
): Promise<ResolvedSettings> {
  if (typeof given !== 'string' && 'warnings' in given) return given;
  const settings =
    typeof given === 'string'
      ? await readSettings(given, camera)
      : resolveSettings(given, camera, 'settings');
  for (const warning of settings.warnings) onWarning?.(warning);
  return settings;
}

/** Tells where a clip gives the camera less than it would see by itself, in time or in pixels. */
export function noteCoarseClips(clips: readonly Clip[], camera: Camera, { onWarning }: OpenPorts): void {
  for (const clip of clips) {
    for (const line of coarseNotes(clip, camera)) onWarning(`${clip.dir}: ${line}`);
  }
}
