import { boxOf, type Look } from '../look.js';

/** Thin lines in a change. */
export interface Streaks {
  /** 0 no direction .. 1 all edges run one way, weighed by how strong they are. */
  oneWay: number;
  /** Of that, the share of edges that run within 25 degrees of upright. */
  upright: number;
  /** Mean steepness of the edges over the mean change, per pixel: high for thin sharp things, low for blurred ones. */
  sharp: number;
}

const RADIUS = 2;
const MARGIN = 3;
const UPRIGHT = Math.cos((25 * Math.PI) / 180) ** 2;

/**
 * The structure tensor (Bigun & Granlund 1987, Proc. ICCV, 433-438) of an image within a box, summed over squares of 5 by 5
 * pixels, where `where` is 1.
 *
 * @param image width * height values
 */
export function streaks(
  image: ArrayLike<number>,
  width: number,
  height: number,
  where: Uint8Array,
  box = { left: 0, top: 0, right: width, bottom: height },
): Streaks {
  const left = Math.max(1, box.left - MARGIN);
  const right = Math.min(width - 1, box.right + MARGIN);
  const top = Math.max(1, box.top - MARGIN);
  const bottom = Math.min(height - 1, box.bottom + MARGIN);
  const w = right - left;
  const h = bottom - top;
  if (w <= 2 * RADIUS || h <= 2 * RADIUS) return { oneWay: 0, upright: 0, sharp: 0 };
  const xx = new Float32Array(w * h);
  const yy = new Float32Array(w * h);
  const xy = new Float32Array(w * h);
  for (let y = 0, to = 0; y < h; y++) {
    for (let x = 0; x < w; x++, to++) {
      const i = (top + y) * width + left + x;
      const gx = (image[i + 1]! - image[i - 1]!) / 2;
      const gy = (image[i + width]! - image[i - width]!) / 2;
      xx[to] = gx * gx;
      yy[to] = gy * gy;
      xy[to] = gx * gy;
    }
  }
  let [energy, directed, upright, change, steep, n] = [0, 0, 0, 0, 0, 0];
  const stride = w * h > 20_000 ? 2 : 1;
  for (let y = RADIUS; y < h - RADIUS; y += stride) {
    for (let x = RADIUS; x < w - RADIUS; x += stride) {
      const at = (top + y) * width + left + x;
      if (where[at] !== 1) continue;
      let [a, b, c] = [0, 0, 0];
      for (let v = -RADIUS; v <= RADIUS; v++) {
        for (let u = -RADIUS, i = (y + v) * w + x - RADIUS; u <= RADIUS; u++, i++) {
          a += xx[i]!;
          b += yy[i]!;
          c += xy[i]!;
        }
      }
      const both = Math.hypot(a - b, 2 * c);
      energy += a + b;
      directed += both;
      // The gradient lies across the edge: an upright edge has a level gradient, cos^2 of its angle being this.
      if (both > 0 && (1 + (a - b) / both) / 2 >= UPRIGHT) upright += both;
      change += Math.abs(image[at]!);
      const here = y * w + x;
      steep += Math.sqrt(xx[here]! + yy[here]!);
      n++;
    }
  }
  return {
    oneWay: energy === 0 ? 0 : directed / energy,
    upright: directed === 0 ? 0 : upright / directed,
    sharp: n === 0 || change === 0 ? 0 : steep / change,
  };
}

/** Streaks in what changed of a look. */
export function streaksOf({ frames, at, reference, region, width, height }: Look): Streaks {
  const { y } = frames[at]!;
  const change = new Float32Array(y.length);
  for (let i = 0; i < y.length; i++) change[i] = y[i]! - reference[i]!;
  return streaks(change, width, height, region.mask, boxOf(region));
}
