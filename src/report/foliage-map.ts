import type { Clip } from '../clip/open.js';
import { writeAtomic } from '../files/atomic.js';
import { luminanceFrames } from '../measure/evidence.js';
import { canvasOf } from './canvas.js';
import { hatch } from './hatch.js';

/** From here on a pixel is shown as foliage. */
const SHOWN = 128;

/**
 * Writes a picture (PNG) of the clip's middle frame on which everything that was taken for foliage is hatched.
 * @param foliage how much each pixel is foliage, at the clip's own size
 */
export async function writeMap(file: string, clip: Clip, foliage: Uint8Array): Promise<void> {
  const { width, height } = clip;
  const mask = foliage.map((value) => (value >= SHOWN ? 1 : 0));
  for await (const y of luminanceFrames(clip, [clip.times.length >> 1], clip)) {
    const canvas = canvasOf(y, 1, width, height);
    hatch(canvas, { mask, width, height, pixels: mask.reduce((sum, one) => sum + one, 0) });
    await writeAtomic(file, await canvas.getBuffer('image/png'));
  }
}
