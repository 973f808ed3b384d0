import { describe, expect, test } from 'vitest';
import { entryNames } from '../../src/diagnose/triggers/measures/measures.js';
import { outputs, probabilities } from '../../src/diagnose/triggers/model/network.js';
import { calibrated, fitNetworks } from '../../src/lab/fit.js';
import { gardenLesson } from '../../src/lab/lessons.js';
import { calibration, judged } from '../../src/lab/score.js';
import { tensors } from '../../src/lab/tensors.js';

describe('how the cause model is judged', () => {
  test('confusion, F1 and accuracy of a case worked out by hand', () => {
    const { confusion, f1, accuracy } = judged(
      ['wind', 'wind', 'wind', 'rain'],
      ['wind', 'wind', 'rain', 'rain'],
    );
    expect(confusion[0]?.slice(0, 2)).toEqual([2, 1]);
    expect(confusion[1]?.slice(0, 2)).toEqual([0, 1]);
    // wind: 2 * 2 / (3 + 2); rain: 2 * 1 / (1 + 2).
    expect(f1[0]).toBeCloseTo(0.8, 12);
    expect(f1[1]).toBeCloseTo(2 / 3, 12);
    expect(accuracy).toBe(0.75);
  });

  test('calibration of a case worked out by hand', () => {
    const { bands, error } = calibration([0.9, 0.92, 0.55, 0.51], [true, false, true, true]);
    expect(bands.map(({ from, n, right }) => [from, n, right])).toEqual([
      [0.5, 2, 1],
      [0.9, 2, 0.5],
    ]);
    expect(error).toBeCloseTo((2 * (1 - 0.53) + 2 * (0.91 - 0.5)) / 4, 12);
  });

  test('what it is judged by is drawn and watched in ways that it has not learnt from', () => {
    const of = (use: 'learn' | 'judge') =>
      Array.from({ length: 30 }, (_, i) => gardenLesson('mixed', String(i), use)).map(({ spec }) => spec);
    const [learnt, unseen] = [of('learn'), of('judge')];
    for (const field of ['rate', 'width'] as const) {
      const known = new Set(learnt.map((spec) => spec[field]));
      expect(unseen.filter((spec) => known.has(spec[field]))).toEqual([]);
    }
    const winds = new Set(learnt.map(({ conditions }) => conditions.wind));
    expect(unseen.filter(({ conditions: { wind } }) => wind > 1 && winds.has(wind))).toEqual([]);
  });

  test('training learns what can be told apart, and the same seed gives the same weights', async () => {
    const tf = await tensors();
    const samples = Array.from({ length: 160 }, (_, i) => {
      const cause = outputs[i % outputs.length] as (typeof outputs)[number];
      const vector = entryNames.map(
        (_name, e) => (e === i % outputs.length ? 1 : 0) + ((i * 31 + e * 17) % 7) / 50,
      );
      return { cause, vector };
    });
    const weights = await fitNetworks(tf, samples, 'a seed');
    expect(await fitNetworks(tf, samples, 'a seed')).toEqual(weights);
    const by = calibrated(weights, samples);
    const said = samples.map(({ vector }) => {
      const all = probabilities(by, vector);
      return outputs[all.indexOf(Math.max(...all))];
    });
    expect(said).toEqual(samples.map(({ cause }) => cause));
  });
});
