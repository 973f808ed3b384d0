import { Pieces } from '../../../engine/pieces.js';
import { changedRegion } from '../../../engine/region.js';
import { boxOf, type Look, type PixelBox } from '../look.js';

/** Size and shape of what fired, and how the rest of the change lies about the frame. */
export interface Extent {
  /** Pixels of the region and all changed ones, as shares of the frame. */
  region: number;
  changed: number;
  /** Share of its box that the region fills. */
  fill: number;
  /** Minor over major axis of the region, 1 = as wide as long. */
  roundness: number;
  /** Connected regions for every thousand changed pixels. */
  pieces: number;
  /** Share of the cells of a grid of 8 by 6 in which something changed. */
  spread: number;
}

const COLUMNS = 8;
const ROWS = 6;

export function extent({ difference, level, region, width, height }: Look): Extent {
  const total = width * height;
  const { pieces, changed, cells } = survey(difference, level, width, height);
  const box = boxOf(region);
  return {
    region: region.pixels / total,
    changed: changed / total,
    fill: region.pixels / Math.max(1, (box.right - box.left) * (box.bottom - box.top)),
    roundness: roundnessOf(region.mask, width, box, region.pixels),
    pieces: changed === 0 ? 0 : (1000 * pieces) / changed,
    spread: cells / (COLUMNS * ROWS),
  };
}

/** Counts 8-connected pieces, changed pixels, and cells of the grid that hold any. */
function survey(difference: Uint8Array, level: number, width: number, height: number) {
  const { mask, pixels: changed } = changedRegion(difference, width, height, level);
  let pieces = 0;
  Pieces.of(width, height).forEach(mask, 1, () => {
    pieces++;
  });
  const cells = new Uint8Array(COLUMNS * ROWS);
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor((y * ROWS) / height) * COLUMNS;
    for (let x = 0; x < width; x++, i++) {
      if (mask[i] === 1) cells[row + Math.floor((x * COLUMNS) / width)] = 1;
    }
  }
  return { pieces, changed, cells: cells.reduce((sum, cell) => sum + cell, 0) };
}

/** Minor over major axis of the ellipse with the region's second moments. */
function roundnessOf(mask: Uint8Array, width: number, box: PixelBox, pixels: number): number {
  let [sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0];
  for (let y = box.top; y < box.bottom; y++) {
    for (let x = box.left; x < box.right; x++) {
      if (mask[y * width + x] !== 1) continue;
      sx += x;
      sy += y;
      sxx += x * x;
      syy += y * y;
      sxy += x * y;
    }
  }
  const n = Math.max(1, pixels);
  // A pixel is a square, not a point: a twelfth is its own second moment.
  const xx = sxx / n - (sx / n) ** 2 + 1 / 12;
  const yy = syy / n - (sy / n) ** 2 + 1 / 12;
  const xy = sxy / n - (sx / n) * (sy / n);
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  return Math.sqrt(Math.max(0, middle - half) / (middle + half));
}
