import { type Clip, luminanceFrames } from '../clip/open.js';
import type { SiteResult } from '../jobs/tune.js';
import { foliageOf } from '../measure/weather/foliage.js';
import { canvasOf } from './canvas.js';
import type { FoliageShown } from './data.js';
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

/** Widest that a map is in a report. */
const WIDTH = 320;

/** The maps of the clips that tuning put wind onto. */
export async function foliageShown(
  groups: readonly { clips: readonly { clip: Clip }[]; tuned?: SiteResult }[],
): Promise<FoliageShown[]> {
  const shown: FoliageShown[] = [];
  for (const { clips, tuned } of groups) {
    const blown = tuned?.byCondition.some(
      ({ condition, source }) => condition === 'wind' && source === 'simulated',
    );
    if (!tuned || !blown) continue;
    for (const { clip } of clips.filter((c) => tuned.simulations.some((s) => s.clip === c.clip.dir))) {
      const width = Math.min(WIDTH, clip.width);
      const size = { width, height: Math.max(1, Math.round((clip.height * width) / clip.width)) };
      const { map } = await foliageOf(clip, size.width, size.height);
      const png = Buffer.from(await foliageMap(clip, map, size));
      shown.push({ clip: clip.dir, address: `data:image/png;base64,${png.toString('base64')}` });
    }
  }
  return shown;
}
