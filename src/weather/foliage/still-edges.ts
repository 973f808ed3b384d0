import { boxMean } from './box.js';
import { regions } from './regions.js';
import { structureOf } from './texture.js';

/** Slope, grey levels per pixel, from which on an edge is sharp, and at least so many times that of noise. */
const SHARP = 12;
const TIMES_NOISE = 3;
/** Share of its slope that has one direction, within so many pixels: a line has, grains of stone have not. */
const STRAIGHT = 0.5;
const LOOKED_AT = 2;
/** Pixels of shift at most that an edge which stands still shows. */
const STILL = 0.12;
/** Share of the frame's width from which on an edge is no leaf's. */
const LONG = 0.06;
/** Share of the frame's width that is kept still on either side: the net that bends a picture is as coarse. */
const BESIDE = 0.0125;

/**
 * Long edges that stand still - painted lines, planks, joints of a wall, poles - with what lies close beside them.
 * @param mean grey level of each pixel; `energy` its squared change; `noise` what of it is the sensor's; `slope` its squared slope
 * @returns 1 on them, else 0
 */
export function stillEdges(
  mean: Float32Array,
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
  const { coherence } = structureOf(mean, width, height, LOOKED_AT);
  const still = Uint8Array.from(sloped, (g, i) => {
    if (coherence[i]! < STRAIGHT) return 0;
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
