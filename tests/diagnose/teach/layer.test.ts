import type { Scalar } from '@tensorflow/tfjs-core';
import { expect, it } from 'vitest';
import { random } from '../../../src/base/random.js';
import { type Example, learn, nothingLearnt, priceOf } from '../../../src/diagnose/teach/layer.js';
import { outputs } from '../../../src/diagnose/triggers/model/network.js';
import { on } from '../../../src/lab/tensors.js';
import { site, takenForInsects } from './made.js';

const examples = site('oracle', 30, { rainIsSaid: takenForInsects }).map(
  ({ probabilities, told }): Example => ({ probabilities, cause: told! }),
);

/** The same price written as tensors, whose slopes the library takes by itself: the oracle. */
async function oracle() {
  const tf = await on('cpu');
  const said = tf.tensor2d(examples.map(({ probabilities }) => [...probabilities]));
  const inputs = tf.concat([said, tf.ones([examples.length, 1])], 1);
  const truth = tf.tensor2d(examples.map(({ cause }) => outputs.map((name) => Number(name === cause))));
  const price = (weights: InstanceType<typeof tf.Tensor>) => {
    const values = tf.add(tf.log(said), tf.matMul(inputs as never, weights as never, false, true));
    const losses = tf.losses.softmaxCrossEntropy(
      truth,
      values as never,
      undefined,
      undefined,
      tf.Reduction.SUM,
    );
    return tf.add(losses, tf.mul(0.5, tf.sum(tf.square(weights)))) as Scalar;
  };
  return { tf, price };
}

it('has the price and the slopes that tensors have', async () => {
  const { tf, price } = await oracle();
  const r = random('weights', 'layer');
  const weights = nothingLearnt.weights.map(() => r() - 0.5);
  const { price: own, slope } = priceOf({ weights }, examples);
  const { value, grad } = tf.valueAndGrad(price)(
    tf.tensor2d([...weights], [outputs.length, outputs.length + 1]),
  );
  expect(own).toBeCloseTo(value.dataSync()[0]!, 4);
  const theirs = grad.dataSync();
  expect([...slope]).toEqual([...theirs].map((s) => expect.closeTo(s, 4)));
});

it('learns what tensors learn, within 1e-4', async () => {
  const { tf, price } = await oracle();
  const weights = tf.variable(tf.zeros([outputs.length, outputs.length + 1]));
  const descent = tf.train.sgd(1 / (1 + examples.length));
  for (let step = 0; step < 500; step++) descent.minimize(() => price(weights as never));
  const theirs = weights.dataSync();
  expect(Math.max(...learn(examples).weights.map((w, i) => Math.abs(w - theirs[i]!)))).toBeLessThan(1e-4);
});
