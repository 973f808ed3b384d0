import type { CauseName } from '../../diagnosis.js';
import { entryNames } from '../measures/measures.js';
import { outputs, probabilities, type Weights } from './network.js';
import { weights } from './weights.js';

/** Below this the likeliest cause is no better than a guess, and is not named. */
export const LEAST = 0.5;

export interface Told {
  cause: CauseName;
  probability: number;
  /** The likeliest cause, also where it is not named. */
  likeliest: CauseName;
}

/** Probability of each cause of each trigger, from what was measured around it. */
export function causeProbabilities(
  vectors: readonly (readonly number[])[],
  by: Weights = weights,
): number[][] {
  if (by.inputs.join() !== entryNames.join()) {
    throw new Error(
      'the cause model was trained on other measures than this program takes; train it anew: npm run train',
    );
  }
  return vectors.map((vector) => probabilities(by, vector));
}

/**
 * @param all one probability for each output
 * @param ruledOut causes that cannot be, as rain cannot in a clip that is known to be dry; the others share its probability
 */
export function told(all: readonly number[], ruledOut: readonly CauseName[]): Told {
  const open = without(all, ruledOut);
  const probability = Math.max(...open);
  const likeliest = outputs[open.indexOf(probability)] as CauseName;
  return { cause: probability < LEAST ? 'unknown' : likeliest, probability, likeliest };
}

/** The same with some causes ruled out; they add up to 1. */
export function without(all: readonly number[], ruledOut: readonly CauseName[]): number[] {
  const open = all.map((p, i) => (ruledOut.includes(outputs[i] as CauseName) ? 0 : p));
  const sum = open.reduce((a, b) => a + b, 0);
  return open.map((p) => p / sum);
}
