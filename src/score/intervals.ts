/** A 90 % interval; `n` is how many units it rests on. */
export interface Interval {
  low: number;
  high: number;
  n: number;
}

/** A share with its 90 % interval; `n` is what it is a share of. */
export interface Ratio extends Interval {
  value: number;
  /** The interval with bunches of triggers as the units; only of triggers, not of visits. */
  bouts?: Interval;
}

/** A rate per watched hour with its 90 % interval; `n` is the count it rests on. */
export interface Rate extends Interval {
  value: number;
  /** The interval with bunches of triggers as the units. */
  bouts?: Interval;
}

/** The 95 % point of the standard normal distribution: two-sided 90 %. */
export const Z90 = 1.6448536269514722;

/**
 * Wilson's score interval for `count` of `n`, or null where there is nothing to take a share of.
 * Wilson 1927; method 3 of Newcombe 1998, Statistics in Medicine 17:857-872.
 */
export function wilson(count: number, n: number, z = Z90): Ratio | null {
  if (n === 0) return null;
  const p = count / n;
  const zz = z * z;
  const middle = (p + zz / (2 * n)) / (1 + zz / n);
  const half = (z / (1 + zz / n)) * Math.sqrt((p * (1 - p)) / n + zz / (4 * n * n));
  return {
    value: p,
    low: count === 0 ? 0 : Math.max(0, middle - half),
    high: count === n ? 1 : Math.min(1, middle + half),
    n,
  };
}

/**
 * Exact Poisson interval for a count seen in `hours`, or null where nothing was watched. Its ends are the means at
 * which so many or more, and so few or fewer, would be seen 5 % of the time (Garwood 1936, Biometrika 28:437-442).
 */
export function poissonRate(count: number, hours: number, tail = 0.05): Rate | null {
  if (!(hours > 0)) return null;
  const low = count === 0 ? 0 : meanWhere((mean) => 1 - poissonAtMost(count - 1, mean) - tail, count);
  const high = meanWhere((mean) => tail - poissonAtMost(count, mean), count + 1);
  return { value: count / hours, low: low / hours, high: high / hours, n: count };
}

/**
 * F-beta of precision and recall, null where either is. Weighs recall beta times as much as precision
 * (van Rijsbergen 1979); 0 where both are 0.
 */
export function fBeta(precision: number | null, recall: number | null, beta = 1): number | null {
  if (precision === null || recall === null) return null;
  const bb = beta * beta;
  const under = bb * precision + recall;
  return under === 0 ? 0 : ((1 + bb) * precision * recall) / under;
}

/** P(X <= count) for a Poisson variable, summed outwards from its largest term so that no mean is too large. */
function poissonAtMost(count: number, mean: number): number {
  const peak = Math.min(count, Math.floor(mean));
  let sum = 1;
  for (let k = peak, term = 1; k > 0 && term > 1e-17 * sum; k--) {
    term *= k / mean;
    sum += term;
  }
  for (let k = peak + 1, term = 1; k <= count && term > 1e-17 * sum; k++) {
    term *= mean / k;
    sum += term;
  }
  return Math.min(1, sum * Math.exp(peak * Math.log(mean) - mean - logFactorial(peak)));
}

/** Where a rising function of the mean crosses 0, by halving. */
function meanWhere(rising: (mean: number) => number, near: number): number {
  let low = 0;
  let high = near + 10 * Math.sqrt(near) + 10;
  for (let i = 0; i < 200 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2;
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Stirling's series from 20 on, where its error is below 1e-12. */
function logFactorial(n: number): number {
  if (n >= 20) {
    return (
      n * Math.log(n) -
      n +
      Math.log(2 * Math.PI * n) / 2 +
      1 / (12 * n) -
      1 / (360 * n ** 3) +
      1 / (1260 * n ** 5)
    );
  }
  let product = 1;
  for (let k = 2; k <= n; k++) product *= k;
  return Math.log(product);
}
