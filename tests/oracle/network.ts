import { standardized, type Weights } from '../../src/diagnose/triggers/model/network.js';
import { layersOf } from '../../src/lab/layers.js';
import type { Tensors } from '../../src/lab/tensors.js';

/** Probabilities of each cause for each vector, by the layers that the networks were trained as. */
export function probabilitiesOn(tf: Tensors, weights: Weights, vectors: readonly number[][]): number[][] {
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
