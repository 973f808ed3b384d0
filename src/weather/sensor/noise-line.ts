/**
 * The noise of a pixel by the linear model of EMVA 1288, in linear light where 1 is white: its variance over time is
 * floor + slope * light.
 */
export interface NoiseLine {
  floor: number;
  slope: number;
}

/** What was measured of some places that stood still, all about as bright. */
export interface TransferPoint {
  /** Mean grey level. */
  level: number;
  /** Mean linear light, 0 to 1. */
  light: number;
  /** Variance over time in linear light. */
  variance: number;
  /** Of its value, one standard error. */
  error: number;
}

/** A line through photon transfer points, and how sure it is. */
export interface FittedLine extends NoiseLine {
  /** One standard error of the slope, of its value. */
  slopeError: number;
  /** One standard error of the floor, by the points alone. */
  floorError: number;
  /** Middle distance of the points from the line, of its value there. */
  misfit: number;
}

/** Beyond so many standard errors, or so much of its value where that is more, a point counts less the farther it lies. */
const FAR = 3;
const FAR_AT_LEAST = 0.1;
/** No point is surer than this of its value: the transfer curve of no camera is known better. */
const SUREST = 0.02;
const ROUNDS = 20;

/**
 * The line through points, each weighted by how sure it is; one that lies far off counts less (Huber 1964). Neither floor
 * nor slope is below 0. Relative distances decide, for variance spans decades.
 * @param points at least two
 */
export function fitLine(points: readonly TransferPoint[]): FittedLine {
  let line: NoiseLine = { floor: 0, slope: median(points.map(({ variance, light }) => variance / light)) };
  let weights: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    weights = points.map(({ light, variance, error }) => {
      const expected = Math.max(varianceOf(line, light), Number.MIN_VALUE);
      const sure = Math.max(error, SUREST);
      const off = Math.abs(variance / expected - 1);
      const far = Math.max(FAR_AT_LEAST, FAR * sure);
      return (off > far ? far / off : 1) / (sure * expected) ** 2;
    });
    line = weightedLine(points, weights);
  }
  const n = points.length;
  const off = points.map(({ light, variance }) => Math.abs(variance / varianceOf(line, light) - 1));
  const sum = (f: (i: number) => number) => points.reduce((total, _, i) => total + f(i), 0);
  const weight = sum((i) => weights[i]!);
  const mean = sum((i) => weights[i]! * points[i]!.light) / weight;
  const spread = sum((i) => weights[i]! * (points[i]!.light - mean) ** 2);
  // The points' own scatter, where that is more than their errors allow for.
  const scatter = Math.max(
    1,
    sum((i) => weights[i]! * (points[i]!.variance - varianceOf(line, points[i]!.light)) ** 2) / (n - 2 || 1),
  );
  return {
    ...line,
    slopeError: Math.sqrt(scatter / spread) / line.slope,
    floorError: Math.sqrt(scatter * (1 / weight + mean ** 2 / spread)),
    misfit: median(off),
  };
}

/** Variance of a pixel at some linear light. */
export function varianceOf({ floor, slope }: NoiseLine, light: number): number {
  return floor + slope * light;
}

function weightedLine(points: readonly TransferPoint[], weights: readonly number[]): NoiseLine {
  let [w, x, y, xx, xy] = [0, 0, 0, 0, 0];
  points.forEach(({ light, variance }, i) => {
    const weight = weights[i]!;
    w += weight;
    x += weight * light;
    y += weight * variance;
    xx += weight * light * light;
    xy += weight * light * variance;
  });
  const slope = (w * xy - x * y) / (w * xx - x * x);
  const floor = (y - slope * x) / w;
  if (!(slope > 0)) return { floor: y / w, slope: 0 };
  return floor < 0 ? { floor: 0, slope: xy / xx } : { floor, slope };
}

/** @param none what it is of no values at all */
export function median(values: readonly number[], none = Number.NaN): number {
  if (values.length === 0) return none;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  return sorted.length % 2 === 1 ? sorted[Math.floor(middle)]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
