import type { Clip } from '../clip/open.js';
import { luminanceFrames } from '../measure/evidence.js';
import { canvasOf } from './canvas.js';
import { hatch } from './hatch.js';

/** From here on a pixel is shown as foliage. */
const SHOWN = 128;

/**
 * A picture (PNG) of the clip's middle frame on which everything that was taken for foliage is hatched.
 * @param foliage how much each pixel of `size` is foliage
 */
export async function foliageMap(
  clip: Clip,
  foliage: Uint8Array,
  size: { width: number; height: number },
): Promise<Uint8Array> {
  const { width, height } = size;
  const mask = foliage.map((value) => (value >= SHOWN ? 1 : 0));
  let y = new Uint8Array(width * height);
  for await (const frame of luminanceFrames(clip, [clip.times.length >> 1], size)) y = frame.slice();
  const canvas = canvasOf(y, 1, width, height);
  hatch(canvas, { mask, width, height, pixels: mask.reduce((sum, one) => sum + one, 0) });
  return canvas.getBuffer('image/png');
}
