import { isActive } from '../../engine/triggers.js';
import type { Case } from '../case.js';
import type { ChangeMaps } from './change-maps.js';
import { Pieces } from './mask-pieces.js';

/** Masks that are tried at once: one bit of a byte for each. */
export const MOST_MASKS = 8;

/**
 * Which frames of a clip are active under its settings and each of some masks besides, exactly, in one pass over its
 * change maps. Frames without a map are never active.
 *
 * A piece that a mask does not touch stays as it is, so only frames in which nothing but touched pieces are large enough
 * are labelled once more.
 *
 * @param masks up to eight, `width * height` bytes each, 1 where not watched
 * @returns for each mask one byte for each analysed frame
 */
export async function activeUnder(
  a: Case,
  maps: ChangeMaps,
  masks: readonly Uint8Array[],
): Promise<Uint8Array[]> {
  const { width, height } = maps;
  const { minimumArea, maximumArea } = a.settings;
  const pieces = new Pieces(width, height);
  const hiding = new Uint8Array(width * height);
  masks.forEach((mask, m) => {
    for (let i = 0; i < hiding.length; i++) if (mask[i] !== 0) hiding[i] = (hiding[i] as number) | (1 << m);
  });
  const active = masks.map(() => new Uint8Array(a.times.length));
  const left = new Uint8Array(width * height);
  for await (const { place, changed } of maps.read()) {
    const changedLeft = countsUnder(changed, hiding, masks.length);
    // No piece is larger than all that changed, so this is the most that a frame can still come to.
    const asked = changedLeft.flatMap((left, m) =>
      isActive(left, left, minimumArea, maximumArea) ? [m] : [],
    );
    if (a.camera.area === 'changed') {
      for (const m of asked) (active[m] as Uint8Array)[place] = 1;
      continue;
    }
    if (asked.length === 0) continue;
    const { untouched, doubtful } = touchedBy(pieces, changed, hiding, minimumArea);
    for (const m of asked) {
      const bit = 1 << m;
      if (untouched & bit) (active[m] as Uint8Array)[place] = 1;
      else if (doubtful & bit) {
        for (let i = 0; i < left.length; i++)
          left[i] = (changed[i] as number) & ~((hiding[i] as number) >> m);
        if (pieces.some(left, minimumArea)) (active[m] as Uint8Array)[place] = 1;
      }
    }
  }
  return active;
}

/** Changed pixels that each mask leaves. */
function countsUnder(changed: Uint8Array, hiding: Uint8Array, masks: number): number[] {
  const by = new Uint32Array(1 << MOST_MASKS);
  for (let i = 0; i < changed.length; i++) by[hiding[i] as number]! += changed[i] as number;
  const all = by.reduce((sum, n) => sum + n, 0);
  return Array.from({ length: masks }, (_, m) => all - underMask(by, m));
}

/** Pixels that one mask hides, from how many are hidden by each set of masks. */
function underMask(by: Uint32Array, mask: number): number {
  let hidden = 0;
  for (let set = 0; set < by.length; set++) if ((set >> mask) & 1) hidden += by[set] as number;
  return hidden;
}

/** Masks, as bits, that leave a large enough piece untouched, and those that leave enough of one in any shape. */
function touchedBy(
  pieces: Pieces,
  changed: Uint8Array,
  hiding: Uint8Array,
  minimum: number,
): { untouched: number; doubtful: number } {
  let untouched = 0;
  let doubtful = 0;
  const by = new Uint32Array(1 << MOST_MASKS);
  pieces.forEach(changed, minimum, (pixels) => {
    by.fill(0);
    for (let i = 0; i < pixels.length; i++) by[hiding[pixels[i] as number] as number]! += 1;
    for (let m = 0; m < MOST_MASKS; m++) {
      const hidden = underMask(by, m);
      if (hidden === 0) untouched |= 1 << m;
      else if (pixels.length - hidden >= minimum) doubtful |= 1 << m;
    }
  });
  return { untouched, doubtful };
}
