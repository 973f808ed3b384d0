import type { Region } from '../engine/region.js';
import { hatchRegion, markRegion, type Paint } from '../words/region-marks.js';
import type { Canvas } from './canvas.js';

/** Marks a region on a picture of any size: a small one is outlined and left as it is, any other is hatched. */
export function mark(canvas: Canvas, region: Region): void {
  markRegion(canvas.bitmap, region, onto(canvas));
}

/** Hatches a region on a picture of any size; what lies beside it stays as it was. */
export function hatch(canvas: Canvas, region: Region): void {
  hatchRegion(canvas.bitmap, region, onto(canvas));
}

function onto({ bitmap: { data } }: Canvas): Paint {
  return (pixel, shade) => data.fill(shade, 4 * pixel, 4 * pixel + 3);
}
