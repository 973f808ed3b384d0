import { parseJson } from '../base/json.js';
import { type Camera, cameraSchema } from '../camera/description.js';
import { checkDials } from '../camera/dials.js';
import { checkMemory } from '../camera/memory.js';
import { readText } from './read-json.js';

/** Reads and checks a camera description; its dials and its reference are held against the size of its frame. */
export async function readCamera(file: string): Promise<Camera> {
  return cameraIn(await readText(file, 'a camera description'), file);
}

/** As `readCamera`, of a text that is to stand in that file. */
export function cameraIn(text: string, file: string): Camera {
  const camera = parseJson(text, file, cameraSchema, 'a camera description');
  checkMemory(camera, file);
  checkDials(camera.controls, camera.analysis.width * camera.analysis.height, file);
  return camera;
}
