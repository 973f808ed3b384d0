import type { CauseName } from '../../diagnosis.js';
import { entryNames } from '../measures/measures.js';
import { outputs, probabilities, type Weights } from './network.js';
import { tensors } from './tensors.js';
import { weights } from './weights.js';

/** Below this the likeliest cause is no better than a guess, and is not named. */
export const LEAST = 0.5;

export interface Told {
  cause: CauseName;
  probability: number;
  /** The likeliest cause, also where it is not named. */
  likeliest: CauseName;
}

/** The cause of each trigger, from what was measured around it. */
export async function causesOf(
  vectors: readonly (readonly number[])[],
  by: Weights = weights,
): Promise<Told[]> {
  if (by.inputs.join() !== entryNames.join()) {
    throw new Error(
      'the cause model was trained on other measures than this program takes; train it anew: npm run train',
    );
  }
  if (vectors.length === 0) return [];
  const all = probabilities(await tensors(), by, vectors);
  return all.map((p) => {
    const probability = Math.max(...p);
    const likeliest = outputs[p.indexOf(probability)] as CauseName;
    return { cause: probability < LEAST ? 'unknown' : likeliest, probability, likeliest };
  });
}
