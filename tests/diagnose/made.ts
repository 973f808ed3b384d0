import { type Camera, cameraSchema } from '../../src/camera/description.js';
import type { ResolvedSettings } from '../../src/camera/settings.js';
import { luminanceFrames } from '../../src/clip/open.js';
import { type ChangeMaps, ChangeMapWriter } from '../../src/diagnose/cures/change-maps.js';
import type { ReplayedClip } from '../../src/diagnose/replayed-clip.js';
import { Differencer } from '../../src/engine/pipeline.js';
import type { Cache } from '../../src/store/cache.js';
import { small, smallCamera } from '../support/clips.js';

/** The small camera without smoothing, so that what is drawn is what changes. */
export const camera: Camera = cameraSchema.parse({
  ...smallCamera,
  analysis: { ...smallCamera.analysis, smooth: 0 },
});
/** Thresholds of its dial: 60, 46, 32, 18, 4. */
export const settings: ResolvedSettings = {
  threshold: 32,
  minimumArea: 16,
  mostChanged: small.width * small.height,
  persistence: 1,
  cooldown: 4,
  warnings: [],
};

/**
 * A square that is there from one frame to another, both included. It jumps between two places that do not touch, from
 * frame to frame, or stands still.
 */
export interface Square {
  from: number;
  to: number;
  size: number;
  /** On a ground of 100. */
  grey: number;
  at: [x: number, y: number];
  still?: true;
}

/** Grey frames at five a second. */
export function drawn(frames: number, squares: readonly Square[]): Uint8Array[] {
  return Array.from({ length: frames }, (_, k) => {
    const grey = new Uint8Array(small.width * small.height).fill(100);
    for (const s of squares) {
      if (k < s.from || k > s.to) continue;
      const left = s.at[0] + (!s.still && (k - s.from) % 2 === 1 ? s.size + 1 : 0);
      for (let y = s.at[1]; y < s.at[1] + s.size; y++) {
        for (let x = left; x < left + s.size; x++) grey[y * small.width + x] = s.grey;
      }
    }
    return grey;
  });
}

/** The change maps of a case, from its frames. */
export async function mapsOf(replayed: ReplayedClip, cache: Cache): Promise<ChangeMaps> {
  const { width, height } = replayed.camera.analysis;
  const { reference, area } = replayed.camera;
  const areas = (await replayed.evidence?.columns([replayed.level], area))?.get(
    replayed.level,
  ) as Uint32Array;
  const writer = new ChangeMapWriter(width, height, replayed.level, cache);
  const differencer = new Differencer({ ...replayed.camera.analysis, reference, mask: replayed.mask });
  let k = 0;
  for await (const y of luminanceFrames(replayed.clip, replayed.indices, replayed.camera.analysis)) {
    const difference = differencer.next(y, replayed.times[k]!);
    if (areas[k]! >= replayed.settings.minimumArea) await writer.append(k, difference);
    k++;
  }
  return writer.finish();
}
