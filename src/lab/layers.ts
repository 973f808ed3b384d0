import type { LayersModel } from '@tensorflow/tfjs-layers';
import { outputs } from '../diagnose/triggers/model/network.js';
import type { Tensors } from './tensors.js';

const HIDDEN = 24;

/** One network to learn with: without the softmax, which comes after the temperature. */
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
