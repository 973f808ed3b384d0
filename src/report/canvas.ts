import { Jimp } from 'jimp';

/** Pixels to draw on: jimp's image. */
export type Canvas = InstanceType<typeof Jimp>;

/** x, y, width, height as fractions of a picture. */
export type Box = readonly [x: number, y: number, width: number, height: number];

const LIGHT = 0xffffffff;
const DARK = 0x1d1d1dff;
/** Pixels left free between a framed thing and its frame. */
const MARGIN = 4;

/** A canvas from 8-bit pixels, rows from the top, grey or RGB. */
export function canvasOf(pixels: Uint8Array, channels: 1 | 3, width: number, height: number): Canvas {
  const canvas = new Jimp({ width, height });
  const { data } = canvas.bitmap;
  for (let i = 0, from = 0, to = 0; i < width * height; i++, from += channels, to += 4) {
    data[to] = pixels[from]!;
    data[to + 1] = pixels[channels === 3 ? from + 1 : from]!;
    data[to + 2] = pixels[channels === 3 ? from + 2 : from]!;
    data[to + 3] = 255;
  }
  return canvas;
}

/**
 * A canvas of about a width, at least as wide where the pixels are. Of large pictures a whole number of pixels each way is
 * averaged first, for a canvas of all of them would take more memory than they.
 */
export function smallCanvasOf(
  pixels: Uint8Array,
  channels: 1 | 3,
  width: number,
  height: number,
  wanted: number,
): Canvas {
  const by = Math.floor(width / (4 * wanted));
  if (by < 2) return canvasOf(pixels, channels, width, height);
  const [w, h] = [Math.floor(width / by), Math.max(1, Math.floor(height / by))];
  const small = new Uint8Array(w * h * channels);
  for (let y = 0, to = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      for (let c = 0; c < channels; c++) {
        let sum = 0;
        for (let j = 0; j < by; j++) {
          const row = ((y * by + j) * width + x * by) * channels + c;
          for (let i = 0; i < by; i++) sum += pixels[row + i * channels]!;
        }
        small[to++] = Math.round(sum / (by * by));
      }
    }
  }
  return canvasOf(small, channels, w, h);
}

/** Another canvas of the same pixels. */
export function copyOf({ bitmap: { width, height, data } }: Canvas): Canvas {
  const copy = new Jimp({ width, height });
  copy.bitmap.data.set(data);
  return copy;
}

/** Frames a box: a light line inside a dark one, so that it shows on any ground and without colour. */
export function frameBox(canvas: Canvas, [x, y, w, h]: Box): void {
  const { width, height } = canvas.bitmap;
  const left = Math.round(x * width) - MARGIN;
  const top = Math.round(y * height) - MARGIN;
  const right = Math.round((x + w) * width) + MARGIN;
  const bottom = Math.round((y + h) * height) + MARGIN;
  for (const [grow, colour] of [
    [1, DARK],
    [0, LIGHT],
  ] as const) {
    for (let i = left - grow; i <= right + grow; i++) {
      dot(canvas, i, top - grow, colour);
      dot(canvas, i, bottom + grow, colour);
    }
    for (let j = top - grow; j <= bottom + grow; j++) {
      dot(canvas, left - grow, j, colour);
      dot(canvas, right + grow, j, colour);
    }
  }
}

function dot(canvas: Canvas, x: number, y: number, colour: number): void {
  const { width, height } = canvas.bitmap;
  if (x >= 0 && y >= 0 && x < width && y < height) canvas.setPixelColor(colour, x, y);
}
