import { type Camera, cameraSchema } from '../camera/description.js';
import { checkDials } from '../camera/dials.js';
import { checkMemory } from '../camera/memory.js';
import { readJson } from './read-json.js';

/** Reads and checks a camera description; its dials and its reference are held against the size of its frame. */
export async function readCamera(file: string): Promise<Camera> {
  const camera = await readJson(file, cameraSchema, 'a camera description');
  checkMemory(camera, file);
  checkDials(camera.controls, camera.analysis.width * camera.analysis.height, file);
  return camera;
}
