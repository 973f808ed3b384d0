import type { Region } from '../engine/region.js';
import type { Box, Canvas } from './canvas.js';

/** Of a box's longer side, left free around it on both sides together. */
const AROUND = 0.5;

/**
 * The part of a picture around a box, of the picture's own shape and within it, as fractions.
 * @param least its side as a share of the picture's: about a third shows what is in it three times as large
 */
export function cropAround([x, y, w, h]: Box, least: number): Box {
  const side = Math.min(1, Math.max(least, Math.max(w, h) * (1 + AROUND)));
  const start = (middle: number) => Math.min(1 - side, Math.max(0, middle - side / 2));
  return [start(x + w / 2), start(y + h / 2), side, side];
}

/** A part of a picture, at most so many pixels wide. */
export function cropped(canvas: Canvas, [x, y, w, h]: Box, width: number): Canvas {
  const { bitmap } = canvas;
  const part = canvas.clone().crop({
    x: Math.round(x * bitmap.width),
    y: Math.round(y * bitmap.height),
    w: Math.max(1, Math.floor(w * bitmap.width)),
    h: Math.max(1, Math.floor(h * bitmap.height)),
  });
  return part.resize({ w: width }) as Canvas;
}

/** What holds a whole region, as fractions of its frame; null for a region of no pixels. */
export function boxOf({ mask, width, height, pixels }: Region): Box | null {
  if (pixels === 0) return null;
  let [left, right, top, bottom] = [width, 0, height, 0];
  mask.forEach((belongs, i) => {
    if (!belongs) return;
    const [x, y] = [i % width, Math.floor(i / width)];
    left = Math.min(left, x);
    right = Math.max(right, x + 1);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y + 1);
  });
  return [left / width, top / height, (right - left) / width, (bottom - top) / height];
}
