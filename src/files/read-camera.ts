import { type Camera, cameraSchema } from '../camera/description.js';
import { checkDials } from '../camera/dials.js';
import { readJson } from './read-json.js';

/** Reads and checks a camera description; its dials are checked against the frame they act on. */
export async function readCamera(file: string): Promise<Camera> {
  const camera = await readJson(file, cameraSchema, 'a camera description');
  checkDials(camera.controls, camera.analysis.width * camera.analysis.height, file);
  return camera;
}
