import type { Look } from '../look.js';

/** What the whole picture did in the seconds before and after, the region that fired left out. */
export interface Surroundings {
  /** Share of the picture that changed from frame to frame, on average. */
  busy: number;
  /** Of what changed, the share that was as before in the next frame: specks and flashes. */
  flashes: number;
}

/** Frames that are compared with those before and after them. */
const MOMENTS = 24;
/** Every so many pixels of a row are looked at, and every so many rows. */
const STEP = 4;

export function surroundings({ frames, at, level, region, width, height }: Look): Surroundings {
  const tolerance = Math.max(4, level / 2);
  const moments = Array.from({ length: Math.min(MOMENTS, frames.length - 2) }, (_, i) => {
    const among = frames.length - 2;
    return 1 + Math.floor(((i + 0.5) * among) / Math.min(MOMENTS, among));
  }).filter((k) => k !== at && k !== at + 1);
  let [points, changed, gone] = [0, 0, 0];
  for (const k of moments) {
    const before = frames[k - 1]!.y;
    const now = frames[k]!.y;
    const after = frames[k + 1]!.y;
    for (let y = 0; y < height; y += STEP) {
      for (let x = 0; x < width; x += STEP) {
        const i = y * width + x;
        if (region.mask[i] === 1) continue;
        points++;
        if (Math.abs(now[i]! - before[i]!) < tolerance) continue;
        changed++;
        if (Math.abs(after[i]! - before[i]!) < tolerance / 2) gone++;
      }
    }
  }
  return {
    busy: points === 0 ? 0 : changed / points,
    flashes: changed === 0 ? 0 : gone / changed,
  };
}
