import type { Region } from '../engine/region.js';

/** Pixels from one diagonal line to the next. */
const PERIOD = 6;

/** Share of the picture up to which a region is small: hatching would cover a whole animal. */
const SMALL = 0.03;
/** Pixels from a small region to the light line around it, and from there to the dark one around that. */
const [FREE, THICK] = [2, 1];

/** Grey levels of what marks a region, on paper as on the page: they show on any ground and without colour. */
export const LIGHT = 255;
export const DARK = 24;

/** Takes the place of a pixel, counted in rows from the top, and its grey level. */
export type Paint = (pixel: number, shade: number) => void;

/** Width and height of the picture that is painted on, pixels. */
export interface Size {
  width: number;
  height: number;
}

/** Marks a region on a picture of any size: a small one is outlined and left as it is, any other is hatched. */
export function markRegion(size: Size, region: Region, paint: Paint): void {
  if (region.pixels <= SMALL * region.width * region.height) outlineRegion(size, region, paint);
  else hatchRegion(size, region, paint);
}

/** A light line and a dark one around a region; what is in it stays as it was. */
export function outlineRegion({ width, height }: Size, region: Region, paint: Paint): void {
  const inside = insideOf({ width, height }, region);
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
    if (d === FREE || d === far) paint(at, d === FREE ? LIGHT : DARK);
  });
}

/** Diagonal lines, dark and light in turn, and a light outline, all within the region. */
export function hatchRegion(size: Size, region: Region, paint: Paint): void {
  const inside = insideOf(size, region);
  forEachWithin(size, inside, (x, y, at) => {
    const edge = !(inside(x - 1, y) && inside(x + 1, y) && inside(x, y - 1) && inside(x, y + 1));
    const shade = edge ? LIGHT : lineAt(x, y);
    if (shade !== null) paint(at, shade);
  });
}

/** The lines alone, without the outline: for many small pieces at once, of which the outlines would be all that is seen. */
export function linesOver(size: Size, region: Region, paint: Paint): void {
  forEachWithin(size, insideOf(size, region), (x, y, at) => {
    const shade = lineAt(x, y);
    if (shade !== null) paint(at, shade);
  });
}

function lineAt(x: number, y: number): number | null {
  const line = (x + y) % PERIOD;
  return line === 3 ? LIGHT : line < 2 ? DARK : null;
}

type Inside = (x: number, y: number) => boolean;

function forEachWithin(
  { width, height }: Size,
  inside: Inside,
  each: (x: number, y: number, at: number) => void,
): void {
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) if (inside(x, y)) each(x, y, y * width + x);
  }
}

/** Whether a pixel of the picture belongs to a region of another size. */
function insideOf({ width, height }: Size, region: Region): Inside {
  return (x, y) => {
    if (x < 0 || y < 0 || x >= width || y >= height) return false;
    const rx = Math.floor(((x + 0.5) * region.width) / width);
    const ry = Math.floor(((y + 0.5) * region.height) / height);
    return region.mask[ry * region.width + rx] === 1;
  };
}
