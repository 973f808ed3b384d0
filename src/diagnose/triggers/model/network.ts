import { causeNames } from '../../../score/labels.js';

/** Causes in the order of the network's outputs; 'unknown' is anything new in view, an animal or a person say. */
export const outputs = causeNames;

/** A trained network, as kept in the source. */
export interface Weights {
  /** Names of the inputs, in order; they must be those that `vectorOf` gives. */
  inputs: readonly string[];
  /** What is taken off each input, and what the rest is divided by. */
  mean: readonly number[];
  deviation: readonly number[];
  /** Networks that differ in where they started; their last layers' values are averaged. */
  networks: readonly Layers[];
  /** What that mean is divided by before it becomes probabilities: Guo et al. 2017, Proc. ICML 70:1321-1330. */
  temperature: number;
}

/** Layer by layer: kernel, row by row (inputs times outputs), and bias. */
export type Layers = readonly { kernel: readonly number[]; bias: readonly number[] }[];

/**
 * Probability of each cause. Two dense layers of this size, thrice, take microseconds, so they are written out: a library of
 * tensors would take longer to load than all triggers of a clip to tell.
 *
 * @param vector as `vectorOf` gives it
 * @returns one for each output; they add up to 1
 */
export function probabilities(weights: Weights, vector: readonly number[]): number[] {
  const input = standardized(weights, vector);
  const raw = weights.networks.map((layers) => lastOf(layers, input));
  const mean = outputs.map((_, o) => raw.reduce((sum, values) => sum + values[o]!, 0) / raw.length);
  return softmax(mean.map((v) => v / weights.temperature));
}

/** Dense layers, rectified but for the last. */
function lastOf(layers: Layers, input: readonly number[]): readonly number[] {
  return layers.reduce((values, { kernel, bias }, place) => {
    const next = bias.map((b, o) => values.reduce((sum, v, i) => sum + v * kernel[i * bias.length + o]!, b));
    return place < layers.length - 1 ? next.map((v) => Math.max(0, v)) : next;
  }, input);
}

/** From the highest down, so that no power is infinite. */
function softmax(values: readonly number[]): number[] {
  const highest = Math.max(...values);
  const powers = values.map((v) => Math.exp(v - highest));
  const all = powers.reduce((a, b) => a + b, 0);
  return powers.map((p) => p / all);
}

export function standardized(
  { mean, deviation }: Pick<Weights, 'mean' | 'deviation'>,
  vector: readonly number[],
): number[] {
  return vector.map((v, i) => (v - mean[i]!) / deviation[i]!);
}
