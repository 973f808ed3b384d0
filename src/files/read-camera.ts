import { basename } from 'node:path';
import { parseJson } from '../base/json.js';
import { hint, Problem } from '../base/problem.js';
import { type Camera, cameraSchema } from '../camera/description.js';
import { checkDials } from '../camera/dials.js';
import { checkMemory } from '../camera/memory.js';
import { readText } from './read-json.js';
import { cameraFile, shippedCameras } from './shipped-cameras.js';

/**
 * Reads and checks a camera description; its dials and its reference are held against the size of its frame.
 * @param given a file, or the name of a camera that ships where there is no such file
 */
export async function readCamera(given: string): Promise<Camera> {
  const file = await cameraFile(given);
  const text = await readText(file, 'a camera description').catch((error) => {
    throw withNames(error, file);
  });
  return cameraIn(text, file);
}

/** Where there is no such file, what else could have been meant. */
function withNames(error: unknown, file: string): unknown {
  if (!(error instanceof Problem) || error.code !== 'file-missing') return error;
  const name = basename(file, '.json');
  return new Problem(
    error.code,
    `${error.message}, or the name of one that ships: ${shippedCameras.join(', ')}${hint(name, shippedCameras)}`,
  );
}

/** As `readCamera`, of a text that is to stand in that file. */
export function cameraIn(text: string, file: string): Camera {
  const camera = parseJson(text, file, cameraSchema, 'a camera description');
  checkMemory(camera, file);
  checkDials(camera.controls, camera.analysis.width * camera.analysis.height, file);
  return camera;
}
