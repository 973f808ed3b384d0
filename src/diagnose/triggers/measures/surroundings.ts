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
  const thinned = frames.map((frame) => thin(frame, width, height));
  const where = thinOf(region.mask, width, height);
  const outside = Int32Array.from(where.keys()).filter((p) => where[p] !== 1);
  let [changed, gone] = [0, 0];
  for (const k of moments) {
    const before = thinned[k - 1]!;
    const now = thinned[k]!;
    const after = thinned[k + 1]!;
    for (let o = 0; o < outside.length; o++) {
      const p = outside[o]!;
      if (Math.abs(now[p]! - before[p]!) < tolerance) continue;
      changed++;
      if (Math.abs(after[p]! - before[p]!) < tolerance / 2) gone++;
    }
  }
  const points = moments.length * outside.length;
  return {
    busy: points === 0 ? 0 : changed / points,
    flashes: changed === 0 ? 0 : gone / changed,
  };
}

/** What was taken of each frame, for it surrounds more than one trigger. */
const taken = new WeakMap<Look['frames'][number], Uint8Array>();

function thin(frame: Look['frames'][number], width: number, height: number): Uint8Array {
  const known = taken.get(frame) ?? thinOf(frame.y, width, height);
  taken.set(frame, known);
  return known;
}

/** The pixels that are looked at, side by side. */
function thinOf(image: Uint8Array, width: number, height: number): Uint8Array {
  const out = new Uint8Array(Math.ceil(width / STEP) * Math.ceil(height / STEP));
  for (let y = 0, to = 0; y < height; y += STEP) {
    for (let i = y * width, end = i + width; i < end; i += STEP) out[to++] = image[i]!;
  }
  return out;
}
