import type { CauseName, Taught } from '../diagnosis.js';
import { outputs } from '../triggers/model/network.js';
import { boutsOf, judge, type ToldTrigger } from './judge.js';
import { adjusted, type Layer, learn } from './layer.js';

/** With fewer triggers told, or in fewer bouts, nothing is learnt: chance would have too much of a say. */
export const LEAST_TOLD = 20;
export const LEAST_BOUTS = 8;

/** A trigger, and what was told of it. */
export interface Taken {
  clip: number;
  time: number;
  /** By the shipped network, one for each cause. */
  probabilities: readonly number[];
  told: CauseName | null;
}

/** What is learnt of one site: a layer where it made things better on triggers left out, else null. */
export interface Lesson {
  layer: Layer | null;
  taught: Omit<Taught, 'site' | 'clips'>;
}

/** Learns from what an owner told of the triggers of one site. */
export function teach(triggers: readonly Taken[]): Lesson {
  const told = triggers.flatMap(({ told: cause, ...rest }): ToldTrigger[] =>
    cause === null ? [] : [{ ...rest, cause }],
  );
  const bouts = boutsOf(told);
  const counts = {
    triggers: triggers.length,
    told: told.length,
    bouts: bouts.length,
    needed: { told: LEAST_TOLD, bouts: LEAST_BOUTS },
  };
  if (told.length < LEAST_TOLD || bouts.length < LEAST_BOUTS) {
    return { layer: null, taught: { ...counts, verdict: 'too little to tell', judged: null, changed: 0 } };
  }
  const judged = judge(bouts);
  const { right, logLoss } = judged;
  if (!(logLoss.gained.low > 0) || right.taught.value < right.shipped.value) {
    return { layer: null, taught: { ...counts, verdict: 'no better', judged, changed: 0 } };
  }
  const layer = learn(told);
  const likeliest = (all: readonly number[]) => outputs[all.indexOf(Math.max(...all))];
  const changed = triggers.filter(
    ({ probabilities }) => likeliest(probabilities) !== likeliest(adjusted(layer, probabilities)),
  ).length;
  return { layer, taught: { ...counts, verdict: 'better', judged, changed } };
}
