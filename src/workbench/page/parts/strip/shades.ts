import type { StripShades } from '../../worker/strip.js';

/** A picture of how much changed, one pixel a bucket of time and a level, the highest level on top. */
export interface Shades {
  from: number;
  to: number;
  picture: OffscreenCanvas;
}

/** Opacity of the most that can change. */
const DARKEST = 235;

/**
 * Shades on a logarithmic scale: nothing where nothing changed, the darkest where the whole frame did.
 * @param pixels of the whole frame
 * @param ink '#rrggbb'
 */
export function shadesOf(
  { levels, buckets, most }: StripShades,
  from: number,
  to: number,
  pixels: number,
  ink: string,
): Shades {
  const picture = new OffscreenCanvas(buckets, levels.length);
  const context = picture.getContext('2d')!;
  const image = context.createImageData(buckets, levels.length);
  const bytes = new Uint32Array(image.data.buffer);
  const opacity = opacities(pixels);
  const [red, green, blue] = [1, 3, 5].map((at) => Number.parseInt(ink.slice(at, at + 2), 16)) as [
    number,
    number,
    number,
  ];
  // Bytes of a pixel in the order red, green, blue, opacity, on the little-endian machines that browsers run on.
  const colour = red | (green << 8) | (blue << 16);
  for (let level = 0; level < levels.length; level++) {
    const row = levels.length - 1 - level;
    for (let bucket = 0; bucket < buckets; bucket++) {
      const count = most[level * buckets + bucket]!;
      if (count > 0) bytes[row * buckets + bucket] = colour | (opacity(count) << 24);
    }
  }
  context.putImageData(image, 0, 0);
  return { from, to, picture };
}

/** One pixel is just to be seen. */
const FAINTEST = 24;

function opacities(pixels: number): (count: number) => number {
  const scale = (DARKEST - FAINTEST) / Math.log(Math.max(2, pixels));
  return (count) => Math.min(DARKEST, Math.round(FAINTEST + scale * Math.log(count)));
}
