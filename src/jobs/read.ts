import type { Camera } from '../camera/description.js';
import { floorFor } from '../camera/floor.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { drawMask } from '../camera/mask.js';
import { evidenceOf } from '../measure/evidence.js';
import { gridFor, lowestLevel } from '../sweep/for-camera.js';
import { type ClipGiven, openClips } from './open.js';
import { openPorts, type Ports } from './ports.js';

/**
 * Reads the frames of a clip to evidence, which is kept for whatever is asked of it later. Of a camera whose reference
 * depends on its triggers nothing is kept, and nothing is read.
 * @throws Problem for anything wrong with the clip; the signal's reason when aborted
 */
export async function readEvidence(given: ClipGiven, camera: Camera, ports: Ports = {}): Promise<void> {
  const open = await openPorts(ports);
  const [clip] = await openClips([given], open);
  if (!clip || !keepsEvidence(camera)) return;
  open.onPhase(`${clip.dir}: reading frames`);
  const mask = drawMask(clip.labels?.mask, camera);
  await evidenceOf(clip, camera, mask, floorFor(camera, lowestLevel(gridFor(camera))), open);
}
