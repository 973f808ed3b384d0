/** So many steps the exact test takes at most: some tenths of a second. */
const MOST_STEPS = 5e8;

/**
 * Exact two-sided test that paired differences lean to neither side: with every difference as likely to have had the
 * other sign, the chance of a sum at least as far from 0 (Fisher 1935, The Design of Experiments, section 21). Where each
 * difference is one it is the exact form of McNemar's test (1947, Psychometrika 12:153-157), and the conditional test of
 * two counts over the same time (Przyborowski & Wilenski 1940, Biometrika 31:313-323). Of tens of thousands of differences
 * the sum is as good as normal, and is taken so: p then is off by less than a thousandth.
 * @param differences whole numbers; zeros say nothing
 */
export function signFlip(differences: readonly number[]): number {
  // Sorted, so that the same differences in another order are added up to the same last digit.
  const sizes = differences
    .map(Math.abs)
    .filter((size) => size > 0)
    .sort((a, b) => a - b);
  const all = sizes.reduce((sum, size) => sum + size, 0);
  const seen = Math.abs(differences.reduce((sum, d) => sum + d, 0));
  if (sizes.length * all > MOST_STEPS) return normalP(sizes, seen);
  /** Chance that the differences with a plus sign sum up to this. */
  const plus = new Float64Array(all + 1);
  plus[0] = 1;
  let reach = 0;
  for (const size of sizes) {
    reach += size;
    for (let sum = reach; sum >= 0; sum--) {
      plus[sum] = (plus[sum]! + (sum >= size ? plus[sum - size]! : 0)) / 2;
    }
  }
  let p = 0;
  for (let sum = 0; sum <= all; sum++) if (Math.abs(2 * sum - all) >= seen) p += plus[sum]!;
  return Math.min(1, p);
}

/** As `signFlip`, by the normal distribution with the sum's own spread; sums lie at least two apart. */
function normalP(sizes: readonly number[], seen: number): number {
  const spread = Math.sqrt(sizes.reduce((sum, size) => sum + size * size, 0));
  return Math.min(1, 2 * upperTail((seen - 1) / spread));
}

/** Share of the standard normal distribution above z, within 1e-7 (Abramowitz & Stegun 1964, 26.2.17). */
function upperTail(z: number): number {
  if (z < 0) return 1 - upperTail(-z);
  const t = 1 / (1 + 0.2316419 * z);
  const series = [1.330274429, -1.821255978, 1.781477937, -0.356563782, 0.31938153];
  return (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series.reduce((sum, b) => (sum + b) * t, 0);
}

/** The smallest p that the test can give for so many differences other than 0: that of all to one side. */
export function leastP(differences: number): number {
  return Math.min(1, 2 ** (1 - differences));
}

/**
 * Probabilities corrected for how many tests were made: each may be held against the level that all tests together
 * shall keep. Holm 1979, Scandinavian Journal of Statistics 6:65-70, in its weighted form.
 * @param weights how much of the level each test may use up; left out: all the same
 */
export function holm(ps: readonly number[], weights: readonly number[] = ps.map(() => 1)): number[] {
  const weightOf = (i: number) => weights[i]!;
  const share = (i: number) => ps[i]! / weightOf(i);
  const order = ps.map((_, i) => i).sort((a, b) => share(a) - share(b));
  const adjusted = ps.map(() => 1);
  let left = weights.reduce((sum, weight) => sum + weight, 0);
  let highest = 0;
  for (const i of order) {
    highest = Math.max(highest, share(i) * left);
    adjusted[i] = Math.min(1, highest);
    left -= weightOf(i);
  }
  return adjusted;
}
