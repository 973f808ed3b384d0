import { boxMean } from './box.js';

/** Slope, grey levels per pixel, from which on an edge is sharp, and at least so many times that of noise. */
const SHARP = 12;
const TIMES_NOISE = 3;
/** Pixels of shift at most that an edge which stands still shows. */
const STILL = 0.12;
/** Share of the frame's width from which on an edge is no leaf's. */
const LONG = 0.06;
/** Share of the frame's width that is kept still on either side: the net that bends a picture is as coarse. */
const BESIDE = 0.0125;

/**
 * Long edges that stand still - painted lines, planks, joints of a wall, poles - with what lies close beside them.
 * @param energy mean squared change of each pixel; `noise` what of it is the sensor's; `slope` its squared slope
 * @returns 1 on them, else 0
 */
export function stillEdges(
  energy: Float32Array,
  noise: Float32Array,
  slope: Float32Array,
  width: number,
  height: number,
): Uint8Array {
  const [changed, floor, sloped] = [energy, noise, slope].map((part) => boxMean(part, width, height, 1)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  const still = Uint8Array.from(sloped, (g, i) => {
    const more = Math.max(0, changed[i]! - 1.5 * floor[i]!);
    return g > Math.max(SHARP ** 2, TIMES_NOISE ** 2 * floor[i]!) && 2 * more < STILL ** 2 * g ? 1 : 0;
  });
  const out = new Uint8Array(width * height);
  const beside = Math.max(1, Math.round(BESIDE * width));
  for (const edge of regions(still, width, height)) {
    const columns = edge.map((i) => i % width);
    const rows = edge.map((i) => Math.floor(i / width));
    const across = extent(columns);
    const down = extent(rows);
    if (Math.hypot(across, down) < LONG * width) continue;
    for (let n = 0; n < edge.length; n++) {
      for (let y = Math.max(0, rows[n]! - beside); y <= Math.min(height - 1, rows[n]! + beside); y++) {
        const from = y * width;
        out.fill(
          1,
          from + Math.max(0, columns[n]! - beside),
          from + Math.min(width, columns[n]! + beside + 1),
        );
      }
    }
  }
  return out;
}

function extent(values: readonly number[]): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high - low;
}

/** The connected regions of a mask, corners counted, each as its pixels. */
function regions(mask: Uint8Array, width: number, height: number): number[][] {
  const left = Uint8Array.from(mask);
  const out: number[][] = [];
  for (let start = 0; start < left.length; start++) {
    if (left[start] === 0) continue;
    left[start] = 0;
    const region = [start];
    for (let n = 0; n < region.length; n++) {
      const [x, y] = [region[n]! % width, Math.floor(region[n]! / width)];
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
          const i = v * width + u;
          if (left[i] === 0) continue;
          left[i] = 0;
          region.push(i);
        }
      }
    }
    out.push(region);
  }
  return out;
}
