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

/**
 * The cause of each trigger, from what was measured around it.
 *
 * @param ruledOut causes that cannot be, as rain cannot in a clip that is known to be dry; the others share its probability
 */
export function causesOf(
  vectors: readonly (readonly number[])[],
  ruledOut: readonly CauseName[] = [],
  by: Weights = weights,
): Told[] {
  if (by.inputs.join() !== entryNames.join()) {
    throw new Error(
      'the cause model was trained on other measures than this program takes; train it anew: npm run train',
    );
  }
  return vectors.map((vector) => told(probabilities(by, vector), ruledOut));
}

/** @param all one probability for each output */
export function told(all: readonly number[], ruledOut: readonly CauseName[]): Told {
  const open = all.map((p, i) => (ruledOut.includes(outputs[i] as CauseName) ? 0 : p));
  const sum = open.reduce((a, b) => a + b, 0);
  const highest = Math.max(...open);
  const likeliest = outputs[open.indexOf(highest)] as CauseName;
  const probability = highest / sum;
  return { cause: probability < LEAST ? 'unknown' : likeliest, probability, likeliest };
}
