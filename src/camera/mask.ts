import { type Polygon, rasterize } from '../engine/mask.js';
import type { Camera } from './description.js';

/** The polygons not watched, drawn at the analysis size; null where there are none. */
export function drawMask(polygons: readonly Polygon[] | undefined, camera: Camera): Uint8Array | null {
  if (!polygons || polygons.length === 0) return null;
  return rasterize(polygons, camera.analysis.width, camera.analysis.height);
}
