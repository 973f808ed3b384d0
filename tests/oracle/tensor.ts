import type { Tensor2D } from '@tensorflow/tfjs-core';
import { tensors } from '../../src/lab/tensors.js';

export const tf = await tensors();

export function image(pixels: Uint8Array, width: number, height: number): Tensor2D {
  return tf.tensor2d(Float32Array.from(pixels), [height, width]);
}

/** Box mean with the edge pixel repeated, rounded to nearest: a sum of shifted copies. */
export function smoothed(y: Tensor2D, radius: number): Tensor2D {
  const sums = boxSums(boxSums(y, 0, radius), 1, radius);
  return tf.floor(tf.add(tf.div(sums, (2 * radius + 1) ** 2), 0.5));
}

function boxSums(values: Tensor2D, axis: 0 | 1, radius: number): Tensor2D {
  const length = values.shape[axis];
  let sum = tf.zerosLike(values);
  for (let shift = -radius; shift <= radius; shift++) {
    const from = Array.from({ length }, (_, i) => Math.min(length - 1, Math.max(0, i + shift)));
    sum = tf.add(sum, tf.gather(values, tf.tensor1d(from, 'int32'), axis));
  }
  return sum;
}

/** What each frame is compared with: the frame `lag` back, or the first while there is none. */
export function previous(frames: readonly Tensor2D[], lag: number): Tensor2D[] {
  return frames.map((_, k) => frames[Math.max(0, k - lag)]!);
}

/** What each frame is compared with: the exponential average of the frames before it, from the first frame on. */
export function average(frames: readonly Tensor2D[], times: readonly number[], seconds: number): Tensor2D[] {
  const means: Tensor2D[] = [frames[0]!];
  let mean = frames[0]!;
  for (let k = 1; k < frames.length; k++) {
    means.push(mean);
    const part = 1 - Math.exp(-(times[k]! - times[k - 1]!) / seconds);
    mean = tf.add(mean, tf.mul(tf.sub(frames[k]!, mean), part));
  }
  return means;
}

/** |frame - reference|, 0 where masked; not yet rounded. */
export function difference(frame: Tensor2D, reference: Tensor2D, mask: Tensor2D): Tensor2D {
  return tf.mul(tf.abs(tf.sub(frame, reference)), tf.sub(1, mask));
}
