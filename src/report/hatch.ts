import type { Region } from '../engine/region.js';
import type { Canvas } from './canvas.js';

/** Pixels from one diagonal line to the next. */
const PERIOD = 6;
const LIGHT = 255;
const DARK = 24;

/**
 * Hatches a region on a picture of any size: diagonal lines, dark and light in turn, and a light outline, all
 * within the region, so that it shows on any ground and without colour, and what lies beside it stays as it was.
 */
export function hatch(canvas: Canvas, region: Region): void {
  const { width, height, data } = canvas.bitmap;
  const inside = (x: number, y: number): boolean => {
    if (x < 0 || y < 0 || x >= width || y >= height) return false;
    const rx = Math.floor(((x + 0.5) * region.width) / width);
    const ry = Math.floor(((y + 0.5) * region.height) / height);
    return region.mask[ry * region.width + rx] === 1;
  };
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (!inside(x, y)) continue;
      const edge = !(inside(x - 1, y) && inside(x + 1, y) && inside(x, y - 1) && inside(x, y + 1));
      const line = (x + y) % PERIOD;
      const shade = edge || line === 3 ? LIGHT : line < 2 ? DARK : null;
      if (shade === null) continue;
      const at = (y * width + x) * 4;
      data[at] = shade;
      data[at + 1] = shade;
      data[at + 2] = shade;
    }
  }
}
