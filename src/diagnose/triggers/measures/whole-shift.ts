import type { Look } from '../look.js';

/** One shift of the whole picture. */
export interface WholeShift {
  /** Pixels, right and down. */
  x: number;
  y: number;
  /** Share of the squared difference over the whole frame that the shift explains; 0 where it explains none. */
  explains: number;
}

/** Each pixel of the coarse picture stands for a square of this side; whole shifts are looked for there first. */
const COARSE = 4;
const COARSE_REACH = 3;
const ROUNDS = 6;
const STEP = 3;

/**
 * The shift of a whole picture that makes it most like another: a full search on a coarse picture, then least squares
 * on the gradients (Lucas & Kanade 1981, Proc. IJCAI, 674-679) on every third pixel of the fine one.
 */
export function wholeShift(
  from: ArrayLike<number>,
  to: ArrayLike<number>,
  width: number,
  height: number,
): WholeShift {
  const start = coarseShift(from, to, width, height);
  let [x, y] = [start.x * COARSE, start.y * COARSE];
  const still = misfit(from, to, width, height, 0, 0).squares;
  if (still === 0) return { x: 0, y: 0, explains: 0 };
  let best = { x: 0, y: 0, squares: still };
  for (let round = 0; round < ROUNDS; round++) {
    const { xx, yy, xy, xt, yt, squares } = misfit(from, to, width, height, x, y);
    if (squares < best.squares) best = { x, y, squares };
    const scale = xx * yy - xy * xy;
    if (!(scale > 1e-6 * (xx + yy) ** 2)) break;
    x += (yy * xt - xy * yt) / scale;
    y += (xx * yt - xy * xt) / scale;
    if (Math.abs(x) > width / 8 || Math.abs(y) > height / 8) break;
  }
  const { squares } = misfit(from, to, width, height, x, y);
  if (squares < best.squares) best = { x, y, squares };
  return { x: best.x, y: best.y, explains: 1 - best.squares / still };
}

export function wholeShiftOf({ frames, at, reference, width, height }: Look): WholeShift {
  return wholeShift(reference, frames[at]!.y, width, height);
}

/** Normal equations of the gradients, and mean squares, with `from` moved by x, y. */
function misfit(
  from: ArrayLike<number>,
  to: ArrayLike<number>,
  width: number,
  height: number,
  x: number,
  y: number,
) {
  const margin = Math.ceil(Math.max(Math.abs(x), Math.abs(y))) + 2;
  let [xx, yy, xy, xt, yt, squares, n] = [0, 0, 0, 0, 0, 0, 0];
  const left = Math.floor(-x);
  const top = Math.floor(-y);
  const fx = -x - left;
  const fy = -y - top;
  for (let row = margin; row < height - margin; row += STEP) {
    for (let column = margin; column < width - margin; column += STEP) {
      const i = row * width + column;
      const j = i + top * width + left;
      const above = from[j]! * (1 - fx) + from[j + 1]! * fx;
      const below = from[j + width]! * (1 - fx) + from[j + width + 1]! * fx;
      const d = to[i]! - (above * (1 - fy) + below * fy);
      const gx = (to[i + 1]! - to[i - 1]!) / 2;
      const gy = (to[i + width]! - to[i - width]!) / 2;
      xx += gx * gx;
      yy += gy * gy;
      xy += gx * gy;
      // to(p) = from(p - s): a shift too small by u leaves d = -u . g
      xt -= gx * d;
      yt -= gy * d;
      squares += d * d;
      n++;
    }
  }
  return { xx, yy, xy, xt, yt, squares: n > 0 ? squares / n : squares };
}

function coarseShift(from: ArrayLike<number>, to: ArrayLike<number>, width: number, height: number) {
  const w = Math.floor(width / COARSE);
  const h = Math.floor(height / COARSE);
  const a = coarse(from, width, w, h);
  const b = coarse(to, width, w, h);
  let best = { x: 0, y: 0 };
  const n = (h - 2 * COARSE_REACH) * (w - 2 * COARSE_REACH);
  if (h <= 2 * COARSE_REACH || w <= 2 * COARSE_REACH) return best;
  // All are sums of as many squares, so that one as large as the least half way is none to go on with.
  let least = Number.POSITIVE_INFINITY;
  for (const [x, y] of nearestFirst) {
    let sum = 0;
    for (let row = COARSE_REACH; row < h - COARSE_REACH && sum < least; row++) {
      const shift = y * w + x;
      for (let i = row * w + COARSE_REACH, end = (row + 1) * w - COARSE_REACH; i < end; i++) {
        const d = b[i]! - a[i - shift]!;
        sum += d * d;
      }
    }
    if (sum / n < least / n) {
      best = { x, y };
      least = sum;
    }
  }
  return best;
}

/** So that of equally good shifts the smallest is taken. */
const nearestFirst = Array.from({ length: (2 * COARSE_REACH + 1) ** 2 }, (_, i): [number, number] => [
  (i % (2 * COARSE_REACH + 1)) - COARSE_REACH,
  Math.floor(i / (2 * COARSE_REACH + 1)) - COARSE_REACH,
]).sort((a, b) => Math.hypot(...a) - Math.hypot(...b));

function coarse(image: ArrayLike<number>, width: number, w: number, h: number): Float32Array {
  const out = new Float32Array(w * h);
  for (let row = 0, to = 0; row < h; row++) {
    for (let column = 0; column < w; column++, to++) {
      let sum = 0;
      for (let y = 0; y < COARSE; y++) {
        const from = (row * COARSE + y) * width + column * COARSE;
        for (let x = 0; x < COARSE; x++) sum += image[from + x]!;
      }
      out[to] = sum / COARSE ** 2;
    }
  }
  return out;
}
