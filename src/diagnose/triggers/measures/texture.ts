import { type Look, pixelsOf } from '../look.js';

/** Whether what was there can still be seen under the change. */
export interface Texture {
  /** Correlation of the region before and after, at the same place: near 1 when only the light on it changed. */
  kept: number;
  /** Its contrast after over before (standard deviations), as a logarithm to the base 2. */
  contrast: number;
  /** Mean level after over before, as a logarithm to the base 2. */
  ratio: number;
  /** Correlation of the change with itself a few pixels on: near 0 for noise, near 1 for a shadow or a cloud. */
  smoothness: number;
}

const MOST = 4000;
/** Pixels between those that are correlated: further than the camera's smoothing reaches. */
const APART = 4;

export function texture({ frames, at, reference, region, width }: Look): Texture {
  const { y } = frames[at]!;
  const inside = pixelsOf(region, MOST);
  const before = Float64Array.from(inside, (i) => reference[i]!);
  const after = Float64Array.from(inside, (i) => y[i]!);
  const b = moments(before, before);
  const a = moments(after, after);
  const both = moments(before, after);
  return {
    kept: both.covariance / Math.sqrt(b.covariance * a.covariance + 1),
    contrast: Math.log2((Math.sqrt(a.covariance) + 1) / (Math.sqrt(b.covariance) + 1)),
    ratio: Math.log2((a.left + 1) / (b.left + 1)),
    smoothness: selfLikeness(y, reference, width),
  };
}

/** Over the whole frame, so that it does not depend on where the threshold cut the region out. */
function selfLikeness(y: Uint8Array, reference: ArrayLike<number>, width: number): number {
  const rows = Math.floor(y.length / width);
  const most = Math.ceil(rows / 3) * Math.ceil(width / 3);
  const changes = { here: new Float64Array(most), there: new Float64Array(most) };
  let n = 0;
  for (let row = 0; row < rows; row += 3) {
    for (let x = row % 3; x + APART < width; x += 3) {
      const i = row * width + x;
      changes.here[n] = y[i]! - reference[i]!;
      changes.there[n++] = y[i + APART]! - reference[i + APART]!;
    }
  }
  const here = changes.here.subarray(0, n);
  const there = changes.there.subarray(0, n);
  const a = moments(here, here);
  const b = moments(there, there);
  return moments(here, there).covariance / Math.sqrt(a.covariance * b.covariance + 1e-3);
}

function moments(a: ArrayLike<number>, b: ArrayLike<number>) {
  const n = Math.max(1, a.length);
  let [sa, sb, sab] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    sa += a[i]!;
    sb += b[i]!;
    sab += a[i]! * b[i]!;
  }
  return { left: sa / n, covariance: sab / n - (sa / n) * (sb / n) };
}
