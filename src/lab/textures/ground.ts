import { between, type Random } from '../../base/random.js';

/** A grey picture as floats, 0 to 255, rows from the top. */
export interface Ground {
  width: number;
  height: number;
  grey: Float32Array;
}

/** Smooth noise of mean 0 and deviation 1: random values `cell` pixels apart, eased from one to the next. */
export function noiseField(
  width: number,
  height: number,
  cellX: number,
  cellY: number,
  r: Random,
): Float32Array {
  const columns = Math.ceil(width / cellX) + 2;
  const rows = Math.ceil(height / cellY) + 2;
  const values = Float32Array.from({ length: columns * rows }, () => (r() - 0.5) * Math.sqrt(12));
  const out = new Float32Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    const fy = y / cellY;
    const row = Math.floor(fy);
    const v = ease(fy - row);
    for (let x = 0; x < width; x++, i++) {
      const fx = x / cellX;
      const column = Math.floor(fx);
      const u = ease(fx - column);
      const at = row * columns + column;
      const above = values[at]! * (1 - u) + values[at + 1]! * u;
      const below = values[at + columns]! * (1 - u) + values[at + columns + 1]! * u;
      out[i] = above * (1 - v) + below * v;
    }
  }
  return out;
}

/** A picture of nothing in particular, rough at every scale as gardens are, sometimes drawn out, sometimes under a pale sky. */
export function ground(width: number, height: number, r: Random): Ground {
  const grey = new Float32Array(width * height);
  const falls = between(r, 0.55, 1.05);
  const drawnOut = r() < 0.4 ? between(r, 1.5, 5) : 1;
  const upright = r() < 0.7;
  let [weight, all] = [1, 0];
  for (let cell = width / 4; cell >= 2; cell /= 2, weight *= falls) {
    const field = noiseField(
      width,
      height,
      upright ? cell : cell * drawnOut,
      upright ? cell * drawnOut : cell,
      r,
    );
    for (let i = 0; i < grey.length; i++) grey[i]! += weight * field[i]!;
    all += weight * weight;
  }
  const contrast = between(r, 14, 55) / Math.sqrt(all);
  const mean = between(r, 60, 160);
  const sky = r() < 0.35 ? between(r, 0.1, 0.5) * height : 0;
  const pale = between(r, 170, 235);
  for (let i = 0; i < grey.length; i++) {
    const y = Math.floor(i / width);
    const under = sky === 0 ? 1 : Math.min(1, Math.max(0, (y - sky) / 6));
    grey[i] = under * (mean + contrast * grey[i]!) + (1 - under) * pale;
  }
  return { width, height, grey };
}

function ease(t: number): number {
  return t * t * (3 - 2 * t);
}
