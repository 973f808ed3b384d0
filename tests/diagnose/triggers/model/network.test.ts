import seedrandom from 'seedrandom';
import { describe, expect, test } from 'vitest';
import { entryNames } from '../../../../src/diagnose/triggers/measures/measures.js';
import { outputs, probabilities, type Weights } from '../../../../src/diagnose/triggers/model/network.js';
import { weights } from '../../../../src/diagnose/triggers/model/weights.js';
import { native, on } from '../../../../src/lab/tensors.js';
import { probabilitiesOn } from '../../../oracle/network.js';

const random = seedrandom('tensors');
/** Vectors as far from the middle as real ones get. */
const vectors = Array.from({ length: 200 }, () =>
  weights.mean.map((mean, i) => mean + 3 * (2 * random() - 1) * weights.deviation[i]!),
);
const all = vectors.map((vector) => probabilities(weights, vector));

describe('the cause model', () => {
  test('gives probabilities worked out by hand', () => {
    // 2 becomes (2 - 1) / 0.5 = 2, then 2 + 0.5 = 2.5 and, rectified, 0; the last layer weighs the 2.5 for its first output.
    const network = (weight: number) => [
      { kernel: [1, -1], bias: [0.5, 0] },
      {
        kernel: [...outputs.map((_, o) => (o === 0 ? weight : 0)), ...outputs.map(() => 9)],
        bias: outputs.map(() => 4),
      },
    ];
    const made: Weights = {
      inputs: ['one'],
      mean: [1],
      deviation: [0.5],
      networks: [network(0.5), network(1.5)],
      temperature: 2.5,
    };
    // On the average the first output is 2.5 above the others, so 1 after the temperature.
    const others = 1 / (Math.E + outputs.length - 1);
    const said = probabilities(made, [2]);
    expect(said[0]).toBeCloseTo(Math.E * others, 12);
    expect(said.slice(1)).toEqual(outputs.slice(1).map(() => expect.closeTo(others, 12)));
  });

  test.each(['cpu', 'wasm'] as const)('agrees with tensors on the %s backend', async (backend) => {
    const by = probabilitiesOn(await on(backend), weights, vectors);
    expect(farthest(all, by)).toBeLessThan(1e-6);
  });

  test('agrees with tensors of the native library', async (context) => {
    const tf = await native().catch((error: Error) => error);
    if (tf instanceof Error) {
      const why = `the native library does not load here: ${tf.message.split('\n')[0]}`;
      console.warn(`Left out: ${why}`);
      return context.skip(why);
    }
    expect(farthest(all, probabilitiesOn(tf, weights, vectors))).toBeLessThan(1e-6);
  });

  test('gives probabilities also where the values are too large for an exponential', () => {
    const far = probabilities(
      weights,
      weights.mean.map((_, i) => 1e6 * (i % 3)),
    );
    expect(far.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  });

  test('has weights that were trained on the measures that are taken', () => {
    expect(weights.inputs).toEqual(entryNames);
    for (const layers of weights.networks) expect(layers.at(-1)?.bias).toHaveLength(outputs.length);
  });
});

function farthest(a: readonly number[][], b: readonly number[][]): number {
  return Math.max(...a.flatMap((row, i) => row.map((p, o) => Math.abs(p - b[i]![o]!))));
}
