import type { Visit } from '../../../../score/labels.js';

export type Box = NonNullable<Visit['box']>;

/** Where a box is put that is begun by keyboard. */
export const MIDDLE: Box = [0.4, 0.4, 0.2, 0.2];
/** The least side, a fraction of the frame. */
const LEAST = 0.01;

/** No finer than a thousandth of the frame, so that labels stay legible. */
const tidy = (x: number) => Math.round(x * 1000) / 1000;
const within = (x: number, low: number, high: number) => Math.min(high, Math.max(low, x));

/** The box between two corners, within the frame; null where it is too small to be meant. */
export function boxBetween(a: { x: number; y: number }, b: { x: number; y: number }): Box | null {
  const [left, right] = [a.x, b.x].map((x) => tidy(within(x, 0, 1))).sort((p, q) => p - q) as [
    number,
    number,
  ];
  const [top, bottom] = [a.y, b.y].map((y) => tidy(within(y, 0, 1))).sort((p, q) => p - q) as [
    number,
    number,
  ];
  const box: Box = [left, top, tidy(right - left), tidy(bottom - top)];
  return box[2] < LEAST || box[3] < LEAST ? null : box;
}

/** A box moved, and kept within the frame. */
export function movedBox([x, y, width, height]: Box, byX: number, byY: number): Box {
  return [tidy(within(x + byX, 0, 1 - width)), tidy(within(y + byY, 0, 1 - height)), width, height];
}

/** A box whose lower right corner is moved. */
export function widenedBox([x, y, width, height]: Box, byX: number, byY: number): Box {
  return [x, y, tidy(within(width + byX, LEAST, 1 - x)), tidy(within(height + byY, LEAST, 1 - y))];
}
