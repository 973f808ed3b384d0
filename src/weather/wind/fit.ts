/** A quantity to be found, as the logarithm of its ratio to what is assumed, 0 to begin with. */
export interface Unknown {
  /** Standard deviation of what is assumed of it. */
  doubt: number;
  /** No farther from 0 than this. */
  most: number;
}

/** What was found. */
export interface Fit {
  values: number[];
  /** Standard deviation of each, from what was seen and assumed together. */
  deviations: number[];
}

/** Step by which slopes are found, and the longest step taken at once. */
const STEP = 0.5;
const STRIDE = 1.2;
const STEPS = 5;
/** Steps shorter than this change nothing that counts. */
const SETTLED = 0.04;
/** Starts, the cheapest first, from which steps go down. */
const FOLLOWED = 2;

/**
 * Values at which a model comes nearest to what was seen, held back by what is assumed of them: damped Gauss-Newton steps with
 * slopes from differences, brought up to date by Broyden's rule (1965, Math. Comput. 19:577-593). Where what was seen says
 * nothing of a value it stays as assumed.
 *
 * Steps go down into the valley that they begin in, so what is seen of motion between frames, where one and the same may come of
 * slow motion and of quick, must be begun in several places; they go down from the two lowest.
 *
 * @param residuals of the model at given values, each in units of its own standard deviation
 * @param starts values to begin at, or one for what is as assumed
 */
export function fitted(
  unknowns: readonly Unknown[],
  residuals: (values: readonly number[]) => Float64Array,
  starts: readonly (readonly number[])[] = [unknowns.map(() => 0)],
): Fit {
  const begun = starts
    .map((values) => {
      const now = residuals(values);
      return { values, now, cost: costOf(unknowns, values, now) };
    })
    .sort((a, b) => a.cost - b.cost)
    .slice(0, FOLLOWED)
    .map((start) => descended(unknowns, residuals, start));
  return begun.reduce((best, one) => (one.cost < best.cost ? one : best));
}

/** A place, what the model shows there, and what that costs. */
interface Place {
  values: readonly number[];
  now: Float64Array;
  cost: number;
}

function descended(
  unknowns: readonly Unknown[],
  residuals: (values: readonly number[]) => Float64Array,
  start: Place,
): Fit & { cost: number } {
  let { values, now, cost } = start;
  const slopes = unknowns.map((_, k) => {
    const beside = residuals(values.map((v, i) => (i === k ? v + STEP : v)));
    return beside.map((r, j) => (r - now[j]!) / STEP);
  });
  let damping = 0;
  for (let n = 0; n < STEPS; n++) {
    const step = solve(normal(unknowns, slopes, damping), gradient(unknowns, values, slopes, now)).map(
      (s) => -s,
    );
    const longest = Math.max(...step.map(Math.abs));
    const next = values.map((v, k) => {
      const { most } = unknowns[k]!;
      return Math.min(most, Math.max(-most, v + step[k]! * Math.min(1, STRIDE / longest)));
    });
    const moved = next.map((v, k) => v - values[k]!);
    const length = moved.reduce((sum, m) => sum + m * m, 0);
    if (Math.sqrt(length) < SETTLED) break;
    const then = residuals(next);
    for (let j = 0; j < then.length; j++) {
      const foretold = moved.reduce((sum, m, k) => sum + m * slopes[k]![j]!, now[j]!);
      for (let k = 0; k < moved.length; k++) slopes[k]![j]! += ((then[j]! - foretold) * moved[k]!) / length;
    }
    const thenCost = costOf(unknowns, next, then);
    if (thenCost < cost) [values, now, cost, damping] = [next, then, thenCost, damping / 4];
    else damping = 4 * damping + 1;
  }
  const matrix = normal(unknowns, slopes, 0);
  const deviations = unknowns.map((_, k) =>
    Math.sqrt(
      solve(
        matrix,
        unknowns.map((_, i) => (i === k ? 1 : 0)),
      )[k]!,
    ),
  );
  return { values: [...values], deviations, cost };
}

function costOf(unknowns: readonly Unknown[], values: readonly number[], residuals: Float64Array): number {
  const held = unknowns.reduce((sum, { doubt }, k) => sum + (values[k]! / doubt) ** 2, 0);
  return residuals.reduce((sum, r) => sum + r * r, held);
}

function normal(unknowns: readonly Unknown[], slopes: readonly Float64Array[], damping: number): number[][] {
  return slopes.map((a, k) =>
    slopes.map((b, l) => {
      const product = a.reduce((sum, s, j) => sum + s * b[j]!, 0);
      return k === l ? product * (1 + damping) + 1 / unknowns[k]!.doubt ** 2 : product;
    }),
  );
}

function gradient(
  unknowns: readonly Unknown[],
  values: readonly number[],
  slopes: readonly Float64Array[],
  residuals: Float64Array,
): number[] {
  return slopes.map((slope, k) =>
    slope.reduce((sum, s, j) => sum + s * residuals[j]!, values[k]! / unknowns[k]!.doubt ** 2),
  );
}

/** Gaussian elimination of a small symmetric positive matrix: no pivots needed. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  const n = rows.length;
  for (let i = 0; i < n; i++) {
    for (let k = i + 1; k < n; k++) {
      const by = rows[k]![i]! / rows[i]![i]!;
      for (let j = i; j <= n; j++) rows[k]![j]! -= by * rows[i]![j]!;
    }
  }
  const out = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let left = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) left -= rows[i]![j]! * out[j]!;
    out[i] = left / rows[i]![i]!;
  }
  return out;
}
