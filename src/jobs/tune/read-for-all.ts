import { Problem } from '../../base/problem.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import { needLabels } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { readTogether } from '../../measure/evidence.js';
import { gridFor } from '../../sweep/for-camera.js';
import type { OpenPorts } from '../ports.js';
import { type CameraNamed, calledApart } from './camera-names.js';
import { lookingFor, samplingOf } from './sweep-clip.js';
import { goalOf, type Wanted } from './wanted.js';

/**
 * Makes, in one reading of each clip, the evidence that any of several cameras lacks of it.
 * @param wanted tried with each camera before the long reading
 * @throws Problem where a camera cannot be tuned for that; whatever reading the clips throws
 */
export async function readForAll(
  clips: readonly Clip[],
  cameras: readonly CameraNamed[],
  wanted: Wanted | undefined,
  ports: OpenPorts,
): Promise<void> {
  for (const [c, name] of calledApart(cameras).entries()) mustBeTunable(cameras[c]!, name, wanted);
  const reading = cameras.filter(({ camera }) => keepsEvidence(camera));
  const grids = reading.map(({ camera }) => gridFor(camera));
  for (const clip of clips) {
    needLabels(clip);
    ports.signal?.throwIfAborted();
    ports.onPhase(`${clip.dir}: reading frames for ${reading.length} cameras`);
    const looking = reading.map(({ camera }, i) => ({
      ...lookingFor(clip, camera, grids[i]!),
      // What is said of the clip's own weather comes from the frames of the first.
      ...(i === 0 && samplingOf(clip, camera)),
    }));
    await readTogether(clip, looking, ports);
  }
}

/** @throws Problem where a camera lacks a dial, or its battery does not last as long as it must; by the name of the camera */
function mustBeTunable({ camera }: CameraNamed, name: string, wanted: Wanted | undefined): void {
  gridFor(camera);
  try {
    goalOf(wanted, camera, { onWarning: () => undefined });
  } catch (error) {
    throw error instanceof Problem ? new Problem(error.code, `${name}: ${error.message}`) : error;
  }
}
