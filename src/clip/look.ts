/** How much of a frame is to be seen, and how large. */
export interface Look {
  /** x, y, width, height as fractions of the frame; null: all of it. */
  box: readonly [number, number, number, number] | null;
  /** Pixels that the picture is wide at most; it is never made larger than it was stored. */
  width: number;
}

/** The same in pixels: what is cut out of the stored frame, and the size it is brought to. */
export interface Cut {
  left: number;
  top: number;
  width: number;
  height: number;
  toWidth: number;
  toHeight: number;
}

/** Every pixel that a box touches, at least one. */
export function cutOf({ box, width }: Look, stored: { width: number; height: number }): Cut {
  const [x, y, w, h] = box ?? [0, 0, 1, 1];
  const [left, right] = span(x, x + w, stored.width);
  const [top, bottom] = span(y, y + h, stored.height);
  const cut = { left, top, width: right - left, height: bottom - top };
  const toWidth = Math.min(cut.width, Math.max(1, Math.round(width)));
  return { ...cut, toWidth, toHeight: Math.max(1, Math.round((cut.height * toWidth) / cut.width)) };
}

function span(from: number, to: number, size: number): [number, number] {
  // Corners that were written as decimals do not take a pixel more for it.
  const first = Math.min(size - 1, Math.max(0, Math.floor(from * size + 1e-6)));
  return [first, Math.max(first + 1, Math.min(size, Math.ceil(to * size - 1e-6)))];
}
