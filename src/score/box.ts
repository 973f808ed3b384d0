/** Where somebody is: x, y of the upper left corner, width, height, as fractions of the frame. */
export type Box = readonly [x: number, y: number, width: number, height: number];

/** Part of the frame added to a visit's box on every side: hand labels are no more exact than that. */
const MARGIN = 0.02;

/** Pixels of a frame: rows `top` to `bottom` and columns `left` to `right`, the last of each left out. */
export interface PixelBox {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/**
 * What counts as within a visit's box: the box as labelled, grown a little, in whole pixels. A visit was caught by luck
 * where nothing within it would have fired the camera; the sweep, replay and diagnosis all ask this same box.
 */
export function withinBox([x, y, w, h]: Box, width: number, height: number): PixelBox {
  return {
    left: Math.max(0, Math.floor((x - MARGIN) * width)),
    top: Math.max(0, Math.floor((y - MARGIN) * height)),
    right: Math.min(width, Math.ceil((x + w + MARGIN) * width)),
    bottom: Math.min(height, Math.ceil((y + h + MARGIN) * height)),
  };
}
