import type { Camera } from '../../src/camera/description.js';
import { floorFor } from '../../src/camera/floor.js';
import { measure } from '../../src/measure/pass.js';
import { createScene } from '../../src/scene/scene.js';
import type { SceneSpec } from '../../src/scene/spec.js';
import type { Labels } from '../../src/score/labels.js';
import type { Cache } from '../../src/store/cache.js';
import { jsonKey } from '../../src/store/key.js';
import type { ColumnSource } from '../../src/sweep/columns.js';

/** A scene as evidence, without any picture ever written. */
export interface Film extends ColumnSource {
  times: Float64Array;
  seconds: number;
  labels: Labels;
}

/** A scene that is drawn frame by frame. */
export interface Drawn {
  times: Float64Array;
  seconds: number;
  labels: Labels;
  /** Luminance of every frame from the first that is wanted on. */
  from(first: number): Iterable<Uint8Array>;
}

/** Raised by hand when a renderer draws differently. */
const DRAWING = 1;

/** A garden of src/scene. */
export function gardenDrawing(spec: SceneSpec): Drawn {
  const scene = createScene(spec);
  return {
    times: Float64Array.from({ length: scene.frames }, (_, k) => k / scene.rate),
    seconds: scene.seconds,
    labels: scene.labels,
    from: (first) => scene.drawLuminance(first),
  };
}

/**
 * Draws a scene straight into kept evidence of a camera; what is kept already is used again.
 * @param name all that the drawing follows from
 */
export async function filmEvidence(name: unknown, drawn: Drawn, camera: Camera, cache: Cache): Promise<Film> {
  const floor = floorFor(camera, 255);
  const key = jsonKey(DRAWING, name, camera.analysis, camera.reference, floor);
  const { times, seconds, labels } = drawn;
  const differencer = { ...camera.analysis, reference: camera.reference, mask: null };
  const frames = { times, from: (first: number) => drawn.from(first) };
  const [columns] = await measure(frames, [{ key, differencer, floor }], { cache });
  return { times, seconds, labels, ...columns! };
}
