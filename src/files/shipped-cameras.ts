import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ofProgram } from './of-program.js';
import { isThere } from './regular.js';

const FOLDER = fileURLToPath(new URL('../camera/shipped', import.meta.url));

/** Cameras that ship, by what they do: for whoever has not described their own yet. */
export const shippedCameras = [
  'previous-frame',
  'slow-average',
  'small-and-slow',
  'frozen-while-busy',
  'restarts-when-idle',
] as const;

/** Whether a name, which may be a file's, is one of theirs. */
export function isShipped(name: string): boolean {
  return shippedCameras.some((shipped) => shipped === name);
}

/** The file of a camera that ships. @throws Problem 'incomplete' */
export function shippedFile(name: (typeof shippedCameras)[number]): string {
  return ofProgram(join(FOLDER, `${name}.json`));
}

/**
 * The file that is meant where a camera is named: the file itself, or else the camera that ships under that name.
 * @param given as it was written
 * @param file where that lies from here, by the folder of what names it
 */
export async function cameraFile(given: string, file = given): Promise<string> {
  const name = shippedCameras.find((name) => name === given);
  return name === undefined || (await isThere(file)) ? file : shippedFile(name);
}

/** How a camera's file is named to its owner: by its name alone where it ships. */
export function cameraShown(file: string): string {
  return dirname(file) === FOLDER ? basename(file, '.json') : file;
}
