import type { Random } from '../base/random.js';
import { normal, random, shuffled } from '../base/random.js';
import { entryNames } from '../diagnose/triggers/measures/measures.js';
import {
  type Layers,
  outputs,
  probabilities,
  standardized,
  type Weights,
} from '../diagnose/triggers/model/network.js';
import { layersOf } from './layers.js';
import type { Sample } from './samples.js';
import type { Tensors } from './tensors.js';

const EPOCHS = 60;
const BATCH = 64;
/** First step of the descent, share of the truth that is spread over all causes, and price of large weights. */
const RATE = 3e-3;
const SMOOTHING = 0.03;
const DECAY = 2e-4;
/** Noise added to every input while learning, in its standard deviations: no measure is to be trusted to the last digit. */
const JITTER = 0.25;
/** Networks that are averaged, so that where each one started counts for less. */
const NETWORKS = 3;
/** Digits of a weight that are kept. */
const DIGITS = 4;

/** Trains the networks; the same samples and seed give the same weights. */
export async function fitNetworks(tf: Tensors, samples: readonly Sample[], seed: string): Promise<Weights> {
  const columns = entryNames.map((_, i) => samples.map((s) => s.vector[i]!));
  const mean = columns.map((c) => c.reduce((a, b) => a + b, 0) / c.length);
  const deviation = columns.map((c, i) =>
    Math.max(1e-3, Math.sqrt(c.reduce((a, b) => a + (b - mean[i]!) ** 2, 0) / c.length)),
  );
  const inputs = samples.map((s) => standardized({ mean, deviation }, s.vector));
  const classes = samples.map((s) => (outputs as readonly string[]).indexOf(s.cause));
  const networks = Array.from({ length: NETWORKS }, (_, n) =>
    fitOne(tf, inputs, classes, random(seed, `fit ${n}`)),
  );
  return {
    inputs: entryNames,
    mean: mean.map(short),
    deviation: deviation.map(short),
    networks,
    temperature: 1,
  };
}

function fitOne(tf: Tensors, inputs: readonly number[][], classes: readonly number[], r: Random): Layers {
  // Each cause weighs the same, however often it fires.
  const counts = outputs.map((_, c) => classes.filter((k) => k === c).length);
  const weightOf = (c: number) => classes.length / outputs.length / Math.max(1, counts[c]!);
  const model = layersOf(tf, entryNames.length, 1 + Math.floor(r() * 1e6));
  const optimizer = tf.train.adam(RATE);
  for (let epoch = 0; epoch < EPOCHS; epoch++) {
    // The step falls along a half cosine (Loshchilov & Hutter 2017, Proc. ICLR).
    const rate = RATE * (0.5 + 0.5 * Math.cos((Math.PI * epoch) / EPOCHS)) + 1e-5;
    (optimizer as unknown as { learningRate: number }).learningRate = rate;
    const order = shuffled(r, [...inputs.keys()]);
    for (let from = 0; from < order.length; from += BATCH) {
      const batch = order.slice(from, from + BATCH);
      tf.tidy(() => {
        const x = tf.tensor2d(batch.map((i) => jittered(inputs[i] as number[], r)));
        const y = tf.oneHot(
          tf.tensor1d(
            batch.map((i) => classes[i]!),
            'int32',
          ),
          outputs.length,
        );
        const w = tf.tensor1d(batch.map((i) => weightOf(classes[i]!)));
        optimizer.minimize(() => {
          const raw = model.apply(x, { training: true }) as ReturnType<Tensors['tensor2d']>;
          const misses = tf.losses.softmaxCrossEntropy(y, raw, w, SMOOTHING);
          const squares = model.trainableWeights
            .filter((v) => v.shape.length === 2)
            .map((v) => tf.sum(tf.square(v.read())));
          return tf.add(misses, tf.mul(tf.addN(squares), DECAY)) as ReturnType<Tensors['scalar']>;
        });
      });
    }
  }
  const values = model.getWeights().map((t) => Array.from(t.dataSync(), short));
  model.dispose();
  const layers: { kernel: number[]; bias: number[] }[] = [];
  for (let i = 0; i < values.length; i += 2) {
    layers.push({ kernel: values[i] as number[], bias: values[i + 1] as number[] });
  }
  return layers;
}

function jittered(input: readonly number[], r: Random): number[] {
  return input.map((v) => v + JITTER * normal(r));
}

function short(x: number): number {
  return Number(x.toPrecision(DIGITS));
}

/** The temperature at which samples that were not learnt from are likeliest, by golden section. */
export function calibrated(weights: Weights, samples: readonly Sample[]): Weights {
  const loss = (temperature: number) => {
    const counts = new Map<string, number>();
    for (const s of samples) counts.set(s.cause, (counts.get(s.cause) ?? 0) + 1);
    return samples.reduce((sum, s) => {
      const all = probabilities({ ...weights, temperature }, s.vector);
      const p = all[(outputs as readonly string[]).indexOf(s.cause)]!;
      return sum - Math.log(Math.max(1e-9, p)) / (counts.get(s.cause) as number);
    }, 0);
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [0.3, 4];
  for (let i = 0; i < 24; i++) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (loss(a) < loss(b)) high = b;
    else low = a;
  }
  return { ...weights, temperature: short((low + high) / 2) };
}
