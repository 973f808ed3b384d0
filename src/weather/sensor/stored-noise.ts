import { signalOf } from '../gamma.js';

/** Standard deviations and their weights, for sums over a normal distribution. */
const STEPS = 48;
const REACH = 4.5;
const deviations = Float64Array.from({ length: STEPS }, (_, i) => (REACH * (2 * i + 1 - STEPS)) / STEPS);
const weights = (() => {
  const raw = deviations.map((z) => Math.exp((-z * z) / 2));
  const total = raw.reduce((sum, w) => sum + w, 0);
  return raw.map((w) => w / total);
})();

/** Signal as a function of linear light, close together where it is steep: at index sqrt(light) * FINE. */
const FINE = 2048;
const signals = Float64Array.from({ length: FINE + 1 }, (_, i) => 255 * signalOf((i / FINE) ** 2));

/** Mean and variance of the signal (0 to 255) of normal noise on linear light, cut at black and white. */
function signalMoments(light: number, sigma: number): { mean: number; variance: number } {
  let [mean, square] = [0, 0];
  for (let i = 0; i < STEPS; i++) {
    const noisy = Math.min(1, Math.max(0, light + sigma * deviations[i]!));
    const at = Math.sqrt(noisy) * FINE;
    const below = Math.min(FINE - 1, at | 0);
    const signal = signals[below]! + (at - below) * (signals[below + 1]! - signals[below]!);
    mean += weights[i]! * signal;
    square += weights[i]! * signal * signal;
  }
  return { mean, variance: square - mean * mean };
}

/** Normal noise on linear light: what is added to the light, and its standard deviation. */
export interface Spread {
  shift: number;
  sigma: number;
}

const ROUNDS = 24;
/** Of a round, the most that shift and sigma may change by. */
const LEAST_FACTOR = 0.5;
/** Grey levels; how near mean and deviation must come. */
const NEAR = 0.02;

/**
 * Noise to be put onto stored pixels, so that the average of some of them has the mean and the variance that noise of
 * `sigma` has on pixels of the size wanted. More of it falls below black on the smaller pixels, which would brighten the
 * average and narrow its noise: so it is begun lower and made wider.
 * @param light 0 to 1
 * @param left what is left of a stored pixel's variance in the average, 0 to 1
 * @param from where to begin looking
 */
export function storedSpread(light: number, sigma: number, left: number, from?: Spread): Spread {
  if (left === 1 || sigma === 0) return { shift: 0, sigma };
  const wanted = signalMoments(light, sigma);
  // Stored pixels are rounded too, which adds a twelfth to each.
  const deviation = Math.sqrt(Math.max(0, wanted.variance / left - 1 / 12));
  let { shift, sigma: wide } = from ?? { shift: 0, sigma: sigma / Math.sqrt(left) };
  for (let round = 0; round < ROUNDS; round++) {
    const { mean, variance } = signalMoments(light + shift, wide);
    const has = Math.sqrt(variance);
    if (Math.abs(mean - wanted.mean) < NEAR && Math.abs(has - deviation) < NEAR) break;
    wide *= Math.min(1 / LEAST_FACTOR, Math.max(LEAST_FACTOR, deviation / has));
    // By the slope of the mean against shift there.
    const step = wide / 16;
    const slope =
      (signalMoments(light + shift + step, wide).mean - signalMoments(light + shift, wide).mean) / step;
    const back = (wanted.mean - signalMoments(light + shift, wide).mean) / slope;
    shift += Math.min(wide, Math.max(-wide, back));
  }
  return { shift, sigma: wide };
}
