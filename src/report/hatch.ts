import type { Region } from '../engine/region.js';
import type { Canvas } from './canvas.js';

/** Pixels from one diagonal line to the next. */
const PERIOD = 6;
const LIGHT = 255;
const DARK = 24;

/** Share of the picture up to which a region is small: hatching would cover a whole animal. */
const SMALL = 0.03;
/** Pixels from a small region to the light line around it, and from there to the dark one around that. */
const [FREE, THICK] = [2, 1];

/** Marks a region on a picture of any size: a small one is outlined and left as it is, any other is hatched. */
export function mark(canvas: Canvas, region: Region): void {
  if (region.pixels <= SMALL * region.width * region.height) outline(canvas, region);
  else hatch(canvas, region);
}

/** A light line and a dark one around a region, so that they show on any ground; what is in it stays as it was. */
function outline(canvas: Canvas, region: Region): void {
  const { width, height } = canvas.bitmap;
  const inside = insideOf(canvas, region);
  const distance = new Uint8Array(width * height).fill(255);
  const far = FREE + THICK;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (!inside(x, y)) continue;
      for (let ny = Math.max(0, y - far); ny <= Math.min(height - 1, y + far); ny++) {
        for (let nx = Math.max(0, x - far); nx <= Math.min(width - 1, x + far); nx++) {
          const at = ny * width + nx;
          distance[at] = Math.min(distance[at]!, Math.max(Math.abs(nx - x), Math.abs(ny - y)));
        }
      }
    }
  }
  distance.forEach((d, at) => {
    if (d === FREE || d === far) paint(canvas, at, d === FREE ? LIGHT : DARK);
  });
}

function paint({ bitmap: { data } }: Canvas, pixel: number, shade: number): void {
  data.fill(shade, 4 * pixel, 4 * pixel + 3);
}

/** Whether a pixel of the picture belongs to a region of another size. */
function insideOf({ bitmap: { width, height } }: Canvas, region: Region) {
  return (x: number, y: number): boolean => {
    if (x < 0 || y < 0 || x >= width || y >= height) return false;
    const rx = Math.floor(((x + 0.5) * region.width) / width);
    const ry = Math.floor(((y + 0.5) * region.height) / height);
    return region.mask[ry * region.width + rx] === 1;
  };
}

/**
 * Hatches a region on a picture of any size: diagonal lines, dark and light in turn, and a light outline, all
 * within the region, so that it shows on any ground and without colour, and what lies beside it stays as it was.
 */
export function hatch(canvas: Canvas, region: Region): void {
  const { width, height } = canvas.bitmap;
  const inside = insideOf(canvas, region);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (!inside(x, y)) continue;
      const edge = !(inside(x - 1, y) && inside(x + 1, y) && inside(x, y - 1) && inside(x, y + 1));
      const line = (x + y) % PERIOD;
      const shade = edge || line === 3 ? LIGHT : line < 2 ? DARK : null;
      if (shade !== null) paint(canvas, y * width + x, shade);
    }
  }
}
