import type { LayersModel } from '@tensorflow/tfjs-layers';
import { causeNames } from '../../../score/labels.js';
import type { Tensors } from './tensors.js';

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

const HIDDEN = 24;

/** Layers without the softmax, which comes after the temperature. */
export function layersOf(tf: Tensors, inputs: number, seed = 1): LayersModel {
  const dense = (units: number, place: number, more: object) =>
    tf.layers.dense({
      units,
      kernelInitializer: tf.initializers.glorotUniform({ seed: seed + place }),
      ...more,
    });
  return tf.sequential({
    layers: [dense(HIDDEN, 0, { inputShape: [inputs], activation: 'relu' }), dense(outputs.length, 1, {})],
  });
}

/**
 * Probabilities of each cause for each vector.
 *
 * @param vectors as `vectorOf` gives them
 */
export function probabilities(
  tf: Tensors,
  weights: Weights,
  vectors: readonly (readonly number[])[],
): number[][] {
  if (vectors.length === 0) return [];
  return tf.tidy(() => {
    const model = layersOf(tf, weights.inputs.length);
    const input = tf.tensor2d(vectors.map((v) => standardized(weights, v)));
    const raw = weights.networks.map((layers) => {
      model.setWeights(
        layers.flatMap(({ kernel, bias }) => [
          tf.tensor2d([...kernel], [kernel.length / bias.length, bias.length]),
          tf.tensor1d([...bias]),
        ]),
      );
      return model.predict(input) as ReturnType<Tensors['tensor2d']>;
    });
    const mean = tf.div(tf.addN(raw), raw.length * weights.temperature);
    const all = tf.softmax(mean).arraySync() as number[][];
    model.dispose();
    return all;
  });
}

export function standardized(
  { mean, deviation }: Pick<Weights, 'mean' | 'deviation'>,
  vector: readonly number[],
): number[] {
  return vector.map((v, i) => (v - mean[i]!) / deviation[i]!);
}
