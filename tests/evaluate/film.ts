import { createHash } from 'node:crypto';
import type { Camera } from '../../src/camera/description.js';
import { floorFor } from '../../src/camera/floor.js';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { Differencer } from '../../src/engine/pipeline.js';
import { createScene } from '../../src/scene/scene.js';
import type { SceneSpec } from '../../src/scene/spec.js';
import type { Labels } from '../../src/score/labels.js';
import type { Cache } from '../../src/store/cache.js';
import { EvidenceStore } from '../../src/store/evidence-store.js';

/** A drawn scene as evidence, without any picture ever written. */
export interface Film {
  times: Float64Array;
  seconds: number;
  labels: Labels;
  columns(levels: readonly number[], kind: 'region' | 'changed'): Promise<Map<number, Uint32Array>>;
}

/** Raised by hand when the renderer draws differently. */
const DRAWING = 1;

/** Draws a scene straight into kept evidence of a camera; what is kept already is used again. */
export async function filmEvidence(spec: SceneSpec, camera: Camera, cache: Cache): Promise<Film> {
  const scene = createScene(spec);
  const floor = floorFor(camera, 255);
  const key = createHash('sha256')
    .update(JSON.stringify([DRAWING, spec, camera.analysis, camera.reference, floor]))
    .digest('hex');
  const store = new EvidenceStore(cache, key, scene.frames, floor);
  const times = Float64Array.from({ length: scene.frames }, (_, k) => k / scene.rate);
  if (!(await store.complete())) {
    const differencer = new Differencer({ ...camera.analysis, reference: camera.reference, mask: null });
    const meter = new EvidenceMeter(camera.analysis.width, camera.analysis.height, floor);
    const resume = await store.resumePoint();
    if (resume) differencer.load(resume.state);
    let k = resume?.frame ?? 0;
    for (const y of scene.drawLuminance(k)) {
      await store.append(meter.measure(differencer.next(y, times[k]!)));
      await store.checkpoint(() => differencer.save());
      k++;
    }
  }
  return {
    times,
    seconds: scene.seconds,
    labels: scene.labels,
    columns: (levels, kind) => store.columns(levels, kind),
  };
}
