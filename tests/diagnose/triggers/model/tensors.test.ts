import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import seedrandom from 'seedrandom';
import { afterAll, describe, expect, test } from 'vitest';
import { entryNames } from '../../../../src/diagnose/triggers/measures/measures.js';
import { outputs, probabilities, standardized } from '../../../../src/diagnose/triggers/model/network.js';
import { native, plain, type Tensors } from '../../../../src/diagnose/triggers/model/tensors.js';
import { weights } from '../../../../src/diagnose/triggers/model/weights.js';

const random = seedrandom('tensors');
/** Vectors as far from the middle as real ones get. */
const vectors = Array.from({ length: 200 }, () =>
  weights.mean.map((mean, i) => mean + 3 * (2 * random() - 1) * weights.deviation[i]!),
);

/** The same networks written out: no tensors, 64-bit floats. */
function byHand(vector: readonly number[]): number[] {
  const raw = weights.networks.map((layers) => {
    let values = standardized(weights, vector);
    layers.forEach(({ kernel, bias }, place) => {
      const next = bias.map((b, o) =>
        values.reduce((sum, v, i) => sum + v * kernel[i * bias.length + o]!, b),
      );
      values = place < layers.length - 1 ? next.map((v) => Math.max(0, v)) : next;
    });
    return values;
  });
  const mean = outputs.map((_, o) => raw.reduce((sum, values) => sum + values[o]!, 0) / raw.length);
  const powers = mean.map((v) => Math.exp(v / weights.temperature));
  const all = powers.reduce((a, b) => a + b, 0);
  return powers.map((p) => p / all);
}

function farthest(a: readonly number[][], b: readonly number[][]): number {
  return Math.max(...a.flatMap((row, i) => row.map((p, o) => Math.abs(p - (b[i]?.[o] as number)))));
}

describe('the cause model on every backend', async () => {
  const tf = await plain();
  afterAll(() => tf.setBackend('cpu'));

  test('in plain JavaScript it gives the probabilities worked out by hand', () => {
    const all = probabilities(tf, weights, vectors);
    expect(all[0]).toHaveLength(outputs.length);
    expect(farthest(all, vectors.map(byHand))).toBeLessThan(1e-4);
  });

  test('in WebAssembly it gives the same within 1e-4', async () => {
    const { setWasmPaths } = await import('@tensorflow/tfjs-backend-wasm');
    const entry = createRequire(import.meta.url).resolve('@tensorflow/tfjs-backend-wasm');
    setWasmPaths(`${dirname(entry)}/`);
    await tf.setBackend('cpu');
    const onCpu = probabilities(tf, weights, vectors);
    expect(await tf.setBackend('wasm')).toBe(true);
    expect(farthest(probabilities(tf, weights, vectors), onCpu)).toBeLessThan(1e-4);
    await tf.setBackend('cpu');
  });

  // Where the native library is missing there is nothing to compare; it must then be the plain one that is used.
  test('with the native library it gives the same within 1e-4, or that library does not load', async () => {
    let found: Tensors | null = null;
    try {
      found = await native();
    } catch (error) {
      expect(String(error)).toMatch(/tfjs-node|tfjs_binding|native|module/i);
    }
    if (found) {
      expect(farthest(probabilities(found, weights, vectors), vectors.map(byHand))).toBeLessThan(1e-4);
    }
  });

  test('no vectors have no probabilities', () => {
    expect(probabilities(tf, weights, [])).toEqual([]);
  });

  test('the weights were trained on the measures that are taken', () => {
    expect(weights.inputs).toEqual(entryNames);
    for (const layers of weights.networks) expect(layers.at(-1)?.bias).toHaveLength(outputs.length);
  });
});
