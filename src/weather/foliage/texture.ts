import { boxMean } from './box.js';

/** Structure around each pixel: slope in grey levels per pixel, and how much of it has one direction, 0..1. */
interface Structure {
  energy: Float32Array;
  coherence: Float32Array;
}

/**
 * Energy and coherence of the structure tensor (Bigun & Granlund 1987).
 * @param picture `width * height` grey levels
 * @param radius of the window, pixels
 */
export function structureOf(picture: Float32Array, width: number, height: number, radius: number): Structure {
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
  const energy = a.map((value, i) => value + b[i]!);
  const coherence = energy.map((all, i) => (all <= 0 ? 0 : Math.hypot(a[i]! - b[i]!, 2 * c[i]!) / all));
  return { energy, coherence };
}

/** Contrast of a picture, grey levels per pixel, less where it has one direction (a post, a painted line). */
export function leafyContrast(
  picture: Float32Array,
  width: number,
  height: number,
  radius: number,
): Float32Array {
  const { energy, coherence } = structureOf(picture, width, height, radius);
  return energy.map((all, i) => Math.sqrt(all) * (1 - coherence[i]! ** 4));
}
