import { boxMean } from './box.js';

/**
 * Contrast of a picture, grey levels per pixel, less where it has one direction (a post, a painted line), by the
 * structure tensor's coherence (Bigun & Granlund 1987).
 *
 * @param picture `width * height` grey levels
 * @param radius of the window, pixels
 */
export function leafyContrast(
  picture: Float32Array,
  width: number,
  height: number,
  radius: number,
): Float32Array {
  const xx = new Float32Array(width * height);
  const yy = new Float32Array(width * height);
  const xy = new Float32Array(width * height);
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      const gx = (picture[i + 1]! - picture[i - 1]!) / 2;
      const gy = (picture[i + width]! - picture[i - width]!) / 2;
      xx[i] = gx * gx;
      yy[i] = gy * gy;
      xy[i] = gx * gy;
    }
  }
  const a = boxMean(xx, width, height, radius);
  const b = boxMean(yy, width, height, radius);
  const c = boxMean(xy, width, height, radius);
  return a.map((_, i) => {
    const energy = a[i]! + b[i]!;
    if (energy <= 0) return 0;
    const coherence = Math.hypot(a[i]! - b[i]!, 2 * c[i]!) / energy;
    return Math.sqrt(energy) * (1 - coherence ** 4);
  });
}
