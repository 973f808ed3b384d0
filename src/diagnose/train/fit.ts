import type { Random } from '../../scene/random.js';
import { normal, random, shuffled } from '../../scene/random.js';
import { entryNames } from '../triggers/measures/measures.js';
import { layersOf, outputs, probabilities, standardized, type Weights } from '../triggers/model/network.js';
import type { Tensors } from '../triggers/model/tensors.js';
import type { Sample } from './samples.js';

const EPOCHS = 60;
const BATCH = 64;
/** Noise added to every input while learning, in its standard deviations: no measure is to be trusted to the last digit. */
const JITTER = 0.1;
/** Digits of a weight that are kept. */
const DIGITS = 4;

/** Trains the network; the same samples and seed give the same weights. */
export async function fitNetwork(tf: Tensors, samples: readonly Sample[], seed: string): Promise<Weights> {
  const r = random(seed, 'fit');
  const columns = entryNames.map((_, i) => samples.map((s) => s.vector[i] as number));
  const mean = columns.map((c) => c.reduce((a, b) => a + b, 0) / c.length);
  const deviation = columns.map((c, i) =>
    Math.max(1e-3, Math.sqrt(c.reduce((a, b) => a + (b - (mean[i] as number)) ** 2, 0) / c.length)),
  );
  const inputs = samples.map((s) => standardized({ mean, deviation }, s.vector));
  const classes = samples.map((s) => (outputs as readonly string[]).indexOf(s.cause));
  // Each cause weighs the same, however often it fires.
  const counts = outputs.map((_, c) => classes.filter((k) => k === c).length);
  const weightOf = (c: number) => samples.length / outputs.length / Math.max(1, counts[c] as number);

  const model = layersOf(tf, entryNames.length, 1 + Math.floor(r() * 1e6));
  const optimizer = tf.train.adam(3e-3);
  for (let epoch = 0; epoch < EPOCHS; epoch++) {
    // The step falls along a half cosine (Loshchilov & Hutter 2017, Proc. ICLR).
    const rate = 3e-3 * (0.5 + 0.5 * Math.cos((Math.PI * epoch) / EPOCHS)) + 1e-5;
    (optimizer as unknown as { learningRate: number }).learningRate = rate;
    const order = shuffled(r, [...samples.keys()]);
    for (let from = 0; from < order.length; from += BATCH) {
      const batch = order.slice(from, from + BATCH);
      tf.tidy(() => {
        const x = tf.tensor2d(batch.map((i) => jittered(inputs[i] as number[], r)));
        const y = tf.oneHot(
          tf.tensor1d(
            batch.map((i) => classes[i] as number),
            'int32',
          ),
          outputs.length,
        );
        const w = tf.tensor1d(batch.map((i) => weightOf(classes[i] as number)));
        optimizer.minimize(() => {
          const raw = model.apply(x, { training: true }) as ReturnType<Tensors['tensor2d']>;
          const misses = tf.losses.softmaxCrossEntropy(y, raw, w, 0.03);
          const size = model.trainableWeights
            .filter((v) => v.shape.length === 2)
            .reduce(
              (sum, v) => tf.add(sum, tf.sum(tf.square(v.read()))),
              tf.scalar(0) as ReturnType<Tensors['sum']>,
            );
          return tf.add(misses, tf.mul(size, 2e-4)) as ReturnType<Tensors['scalar']>;
        });
      });
    }
  }
  const values = model.getWeights().map((t) => Array.from(t.dataSync(), short));
  const layers = [];
  for (let i = 0; i < values.length; i += 2) {
    layers.push({ kernel: values[i] as number[], bias: values[i + 1] as number[] });
  }
  return {
    inputs: entryNames,
    mean: mean.map(short),
    deviation: deviation.map(short),
    layers,
    temperature: 1,
  };
}

function jittered(input: readonly number[], r: Random): number[] {
  return input.map((v) => v + JITTER * normal(r));
}

function short(x: number): number {
  return Number(x.toPrecision(DIGITS));
}

/** The temperature at which samples that were not learnt from are likeliest, by golden section. */
export function calibrated(tf: Tensors, weights: Weights, samples: readonly Sample[]): Weights {
  const loss = (temperature: number) => {
    const all = probabilities(
      tf,
      { ...weights, temperature },
      samples.map((s) => s.vector),
    );
    const counts = new Map<string, number>();
    for (const s of samples) counts.set(s.cause, (counts.get(s.cause) ?? 0) + 1);
    return samples.reduce((sum, s, i) => {
      const p = all[i]?.[(outputs as readonly string[]).indexOf(s.cause)] as number;
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
