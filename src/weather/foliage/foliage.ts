import { rasterize } from '../../engine/mask.js';
import { smooth } from '../../engine/smooth.js';

/** Pixels over which a drawn outline fades, to either side. */
const SOFT = 1;

/**
 * The labels' outlines as a map of what can sway.
 * @param polygons corners as fractions of the frame
 * @returns `width * height` bytes, 255 inside, fading over a pixel or two at the edge
 */
export function foliageFrom(
  polygons: readonly (readonly (readonly [number, number])[])[],
  width: number,
  height: number,
): Uint8Array {
  const inside = rasterize(polygons, width, height);
  for (let i = 0; i < inside.length; i++) inside[i] = inside[i]! * 255;
  return smooth(inside, width, height, SOFT);
}

/** Takes what stands still out of a map of what can sway, of the same size: an outline says where leaves are, not that all there is leaves. */
export function spare(map: Uint8Array, still: Uint8Array): void {
  for (let i = 0; i < map.length; i++) map[i] = (map[i]! * (255 - still[i]!)) / 255;
}
