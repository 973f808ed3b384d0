/** Below it what is rounded lies on one number or on two: P(1 - P), on average sigma / sqrt(pi). */
const NARROW = 0.1;

/**
 * Variance that noise of standard deviation `sigma` has once it is rounded to whole numbers, on average over where between
 * two of them its mean lies: sigma^2 + 1/12 where the noise is wider than a third of a step (the 1/12 of EMVA 1288), less
 * below it, 0 for none. By the Fourier series of the rounding error (Widrow, Kollar & Liu 1996, IEEE Trans. Instrum. Meas.
 * 45:353-361, from memory): sigma^2 + 1/12 - sum over k of exp(-(2 pi k sigma)^2) / (2 pi^2 k^2).
 * @param sigma in steps
 */
export function roundedVariance(sigma: number): number {
  if (sigma < NARROW) return sigma / Math.sqrt(Math.PI);
  let variance = sigma ** 2 + 1 / 12;
  for (let k = 1; ; k++) {
    const term = Math.exp(-((2 * Math.PI * k * sigma) ** 2)) / (2 * Math.PI ** 2 * k ** 2);
    variance -= term;
    if (term < 1e-9) return variance;
  }
}

/** The variance, before it was rounded, of noise that has this variance after it; the inverse of `roundedVariance`. */
export function unroundedVariance(variance: number): number {
  if (variance <= roundedVariance(NARROW)) return Math.PI * Math.max(0, variance) ** 2;
  let [low, high] = [NARROW, Math.sqrt(variance)];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (roundedVariance(middle) < variance) low = middle;
    else high = middle;
  }
  return high ** 2;
}
