import type { Camera } from '../../src/camera/description.js';
import { floorFor } from '../../src/camera/floor.js';
import { measure } from '../../src/measure/pass.js';
import { createScene } from '../../src/scene/scene.js';
import type { SceneSpec } from '../../src/scene/spec.js';
import type { Labels } from '../../src/score/labels.js';
import type { Cache } from '../../src/store/cache.js';
import { jsonKey } from '../../src/store/key.js';
import type { ColumnSource } from '../../src/sweep/columns.js';

/** A drawn scene as evidence, without any picture ever written. */
export interface Film extends ColumnSource {
  times: Float64Array;
  seconds: number;
  labels: Labels;
}

/** Raised by hand when the renderer draws differently. */
const DRAWING = 1;

/** Draws a scene straight into kept evidence of a camera; what is kept already is used again. */
export async function filmEvidence(spec: SceneSpec, camera: Camera, cache: Cache): Promise<Film> {
  const scene = createScene(spec);
  const floor = floorFor(camera, 255);
  const key = jsonKey(DRAWING, spec, camera.analysis, camera.reference, floor);
  const times = Float64Array.from({ length: scene.frames }, (_, k) => k / scene.rate);
  const frames = { times, from: (first: number) => scene.drawLuminance(first) };
  const differencer = { ...camera.analysis, reference: camera.reference, mask: null };
  const [columns] = await measure(frames, [{ key, differencer, floor }], { cache });
  return { times, seconds: scene.seconds, labels: scene.labels, ...columns! };
}
