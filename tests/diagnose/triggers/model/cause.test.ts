import { describe, expect, test } from 'vitest';
import { told } from '../../../../src/diagnose/triggers/model/cause.js';
import { outputs } from '../../../../src/diagnose/triggers/model/network.js';

/** Probabilities by name; what is not named has none. */
const said = (by: Partial<Record<(typeof outputs)[number], number>>) =>
  outputs.map((cause) => by[cause] ?? 0);

describe('what is said of a trigger', () => {
  test('the likeliest cause with its probability', () => {
    expect(told(said({ wind: 0.7, rain: 0.3 }), [])).toEqual({
      cause: 'wind',
      probability: 0.7,
      likeliest: 'wind',
    });
  });

  test('unknown, below a half, with the likeliest beside', () => {
    expect(told(said({ wind: 0.4, rain: 0.35, insect: 0.25 }), [])).toEqual({
      cause: 'unknown',
      probability: 0.4,
      likeliest: 'wind',
    });
  });

  test('a half is enough', () => {
    expect(told(said({ wind: 0.5, rain: 0.5 }), []).cause).toBe('wind');
  });

  test('not what cannot be: the others share its probability', () => {
    const { cause, probability } = told(said({ rain: 0.6, insect: 0.3, unknown: 0.1 }), ['rain']);
    expect(cause).toBe('insect');
    expect(probability).toBeCloseTo(0.75, 12);
  });
});
