/** Probabilities of 0, 1, 2, ... */
export type Distribution = Float64Array;

/**
 * Successes among n when the chance of one is itself uncertain: a beta-binomial with mean n * chance and `inflation`
 * times the variance of a binomial (up to n times, which is all or nothing).
 */
export function betaBinomial(n: number, chance: number, inflation: number): Distribution {
  // Its variance is n p (1 - p) (1 + (n - 1) / (a + b + 1)).
  const excess = Math.min(Math.max(inflation - 1, 1e-9), n - 1.001);
  const weight = n > 1 ? Math.max((n - 1) / excess - 1, 1e-3) : 1e9;
  const a = chance * weight;
  const b = (1 - chance) * weight;
  return normalised(n + 1, (k) => Math.log(((n - k) / (k + 1)) * ((a + k) / (b + n - k - 1))));
}

/** Counts with a mean and `inflation` (above 1) times the variance of a Poisson count: a negative binomial. */
export function negativeBinomial(mean: number, inflation: number): Distribution {
  const size = mean / (inflation - 1);
  const share = mean / (size + mean);
  const most = Math.ceil(mean + 20 * Math.sqrt(mean * inflation) + 20 * inflation);
  return normalised(most + 1, (k) => Math.log(((k + size) / (k + 1)) * share));
}

/** P(X <= count) of a negative binomial; no more terms are added up than that takes. */
export function negativeBinomialAtMost(count: number, mean: number, inflation: number): number {
  const size = mean / (inflation - 1);
  const share = 1 - 1 / inflation;
  let term = inflation ** -size;
  let sum = term;
  if (term < 1e-300) {
    const all = negativeBinomial(mean, inflation);
    return Math.min(
      1,
      all.subarray(0, Math.floor(count + 1e-9) + 1).reduce((a, b) => a + b, 0),
    );
  }
  for (let k = 0; k + 1 <= count + 1e-9; k++) {
    term *= ((k + size) / (k + 1)) * share;
    sum += term;
  }
  return Math.min(1, sum);
}

/** The smallest counts that leave at most `tail` below, and at most `tail` above. */
export function quantiles(distribution: Distribution, tail: number): [low: number, high: number] {
  let below = 0;
  let low = 0;
  while (below + distribution[low]! < tail - 1e-12) below += distribution[low++]!;
  let above = 0;
  let high = distribution.length - 1;
  while (above + distribution[high]! < tail - 1e-12) above += distribution[high--]!;
  return [low, high];
}

/** From the logarithm of each probability's ratio to the one before it; in logarithms, so nothing over- or underflows. */
function normalised(length: number, logStep: (k: number) => number): Distribution {
  const logs = new Float64Array(length);
  for (let k = 1; k < length; k++) logs[k] = logs[k - 1]! + logStep(k - 1);
  const most = logs.reduce((a, b) => Math.max(a, b));
  const raw = logs.map((x) => Math.exp(x - most));
  const total = raw.reduce((a, b) => a + b);
  return raw.map((x) => x / total);
}
