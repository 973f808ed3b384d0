import { Pieces } from '../../engine/pieces.js';
import { isActive } from '../../engine/triggers.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { ChangeMaps } from './change-maps.js';

/** Masks that are tried at once: one bit of a byte for each. */
export const MOST_MASKS = 8;

/**
 * Which frames of a clip are active under its settings and each of some masks besides, exactly, in one pass over its
 * change maps. Frames without a map are never active.
 *
 * A piece that a mask does not touch stays as it is; of one that it touches only what is left is looked at once more.
 *
 * @param masks up to eight, `width * height` bytes each, 1 where not watched
 * @returns for each mask one byte for each analysed frame
 */
export async function activeUnder(
  replayed: ReplayedClip,
  maps: ChangeMaps,
  masks: readonly Uint8Array[],
): Promise<Uint8Array[]> {
  const { width, height } = maps;
  const { minimumArea, mostChanged } = replayed.settings;
  const pieces = new Pieces(width, height);
  const hiding = new Uint8Array(width * height);
  masks.forEach((mask, m) => {
    for (let i = 0; i < hiding.length; i++) if (mask[i] !== 0) hiding[i] = hiding[i]! | (1 << m);
  });
  const active = masks.map(() => new Uint8Array(replayed.times.length));
  const split = new Pieces(width, height);
  const by = new Uint32Array(1 << MOST_MASKS);
  for await (const { place, changed, runs } of maps.read()) {
    const changedLeft = countsUnder(runs, hiding, masks.length);
    // No piece is larger than all that changed, so this is the most that a frame can still come to.
    let asked = changedLeft.flatMap((left, m) => (isActive(left, left, minimumArea, mostChanged) ? [m] : []));
    const settle = (m: number) => {
      active[m]![place] = 1;
      asked = asked.filter((other) => other !== m);
    };
    if (replayed.camera.area === 'changed') {
      for (const m of asked) settle(m);
      continue;
    }
    if (asked.length === 0) continue;
    pieces.forEach(changed, minimumArea, (pixels) => {
      if (asked.length === 0) return;
      by.fill(0);
      for (let i = 0; i < pixels.length; i++) by[hiding[pixels[i]!]!]! += 1;
      for (const m of asked) {
        const hidden = underMask(by, m);
        if (pixels.length - hidden < minimumArea) continue;
        if (hidden === 0 || split.someLeft(pixels, hiding, m, minimumArea)) settle(m);
      }
    });
  }
  return active;
}

/** Changed pixels that each mask leaves. */
function countsUnder(runs: Uint32Array, hiding: Uint8Array, masks: number): number[] {
  const by = new Uint32Array(1 << MOST_MASKS);
  let all = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const to = runs[r + 1]!;
    for (let i = runs[r]!; i < to; i++) by[hiding[i]!]!++;
    all += to - runs[r]!;
  }
  return Array.from({ length: masks }, (_, m) => all - underMask(by, m));
}

/** Pixels that one mask hides, from how many are hidden by each set of masks. */
function underMask(by: Uint32Array, mask: number): number {
  let hidden = 0;
  for (let set = 0; set < by.length; set++) if ((set >> mask) & 1) hidden += by[set]!;
  return hidden;
}
