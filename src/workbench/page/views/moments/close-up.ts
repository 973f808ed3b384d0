import type { Box } from './boxes.js';

/** The side of a close-up is at least this share of the picture's: what is in it shows up to three times as large. */
const LEAST = 1 / 3;
/** Of a box's longer side, left free around it. */
const AROUND = 0.8;

/** The part of a picture around a box, of the picture's own shape and within it, as fractions. */
export function closeUp([x, y, w, h]: Box): Box {
  const side = Math.min(1, Math.max(LEAST, Math.max(w, h) * (1 + AROUND)));
  const start = (middle: number) => Math.min(1 - side, Math.max(0, middle - side / 2));
  return [start(x + w / 2), start(y + h / 2), side, side];
}

/** Where a box lies in a part of the picture, as fractions of that part. */
export function within([x, y, w, h]: Box, [left, top, width, height]: Box): Box {
  return [(x - left) / width, (y - top) / height, w / width, h / height];
}
