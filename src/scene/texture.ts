import { chance } from '../base/random.js';

/** Smooth noise on [0, 1] with one bump for each unit of x and y (value noise). */
export function smoothNoise(x: number, y: number, seed: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const fx = x - ix;
  const fy = y - iy;
  const sx = fx * fx * (3 - 2 * fx);
  const sy = fy * fy * (3 - 2 * fy);
  const top = chance(ix, iy, seed) * (1 - sx) + chance(ix + 1, iy, seed) * sx;
  const low = chance(ix, iy + 1, seed) * (1 - sx) + chance(ix + 1, iy + 1, seed) * sx;
  return top * (1 - sy) + low * sy;
}

/** Noise on [0, 1] with structure at `octaves` scales, each half the one before. */
export function roughNoise(x: number, y: number, seed: number, octaves = 4): number {
  let sum = 0;
  let weight = 0;
  let w = 1;
  for (let o = 0; o < octaves; o++) {
    sum += w * smoothNoise(x * 2 ** o, y * 2 ** o, seed + o);
    weight += w;
    w *= 0.6;
  }
  return sum / weight;
}
