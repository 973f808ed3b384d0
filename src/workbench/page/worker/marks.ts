import type { Camera } from '../../../camera/description.js';
import { drawMask } from '../../../camera/mask.js';
import type { Polygon } from '../../../engine/mask.js';
import { changedPixels, changedRegion, largestRegion } from '../../../engine/region.js';
import { linesOver, outlineRegion, type Size } from '../../../words/region-marks.js';

/** What changed in a frame at a threshold, and how it is marked on a picture of it. */
export interface Marked extends Size {
  /** RGBA, rows from the top; see-through where nothing is marked. */
  pixels: Uint8ClampedArray<ArrayBuffer>;
  /** Pixels at the analysis size: all that changed, and those of the region that counts. */
  changed: number;
  counted: number;
}

/**
 * Hatches what changed in a frame and outlines the region that counts; for a camera that counts all that changed, all of it
 * is outlined.
 * @param given one grey level a pixel, at the camera's analysis size
 * @param polygons not watched
 * @param level the smallest difference that counts as changed
 * @param size of the picture to mark
 */
export function marksOn(
  given: Uint8Array,
  camera: Camera,
  polygons: readonly Polygon[],
  level: number,
  size: Size,
): Marked {
  const mask = drawMask(polygons, camera);
  const difference = mask ? given.map((value, pixel) => (mask[pixel] ? 0 : value)) : given;
  const { width, height } = camera.analysis;
  const pixels = new Uint8ClampedArray(4 * size.width * size.height);
  const paint = (at: number, shade: number) => {
    pixels.fill(shade, 4 * at, 4 * at + 3);
    pixels[4 * at + 3] = 255;
  };
  const all = changedRegion(difference, width, height, level);
  const counts = camera.area === 'changed' ? all : largestRegion(difference, width, height, level);
  linesOver(size, all, paint);
  outlineRegion(size, counts, paint);
  return {
    pixels,
    ...size,
    changed: changedPixels(difference, level),
    counted: counts.pixels,
  };
}
