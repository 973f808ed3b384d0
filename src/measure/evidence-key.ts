import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import { memoryOf } from '../engine/reference.js';
import { keyOf } from '../store/key.js';

/**
 * Raised whenever the engine gives other evidence for the same frames, so that evidence kept by an older engine is
 * made again and never mixed in.
 */
export const ENGINE_MEANING = 3;

/** Names a clip's evidence under a camera's fixed part: all that it depends on. */
export function evidenceKey(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  indices: Uint32Array,
  times: Float64Array,
): string {
  const { width, height, smooth } = camera.analysis;
  const { whileBusy: _, ...reference } = camera.reference;
  return keyOf(
    [ENGINE_MEANING, clip.contentKey, width, height, smooth, reference, floor],
    indices,
    memoryOf(reference).timed ? times : null,
    mask,
  );
}
