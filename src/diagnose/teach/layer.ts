import type { CauseName } from '../diagnosis.js';
import { outputs } from '../triggers/model/network.js';

/**
 * What an owner's corrections add to the shipped network: to the logarithm of each cause's probability, a linear function
 * of all probabilities. So it learns what the network calls insects at this site and is rain, and how common each cause is
 * here; all zero, it leaves everything as it was.
 */
export interface Layer {
  /** A row for each cause; in it a weight for each probability, then what is added always. */
  weights: Float64Array;
}

/** A trigger whose cause the owner told. */
export interface Example {
  /** By the network, one for each cause; they add up to 1. */
  probabilities: readonly number[];
  cause: CauseName;
}

const CAUSES = outputs.length;
const COLUMNS = CAUSES + 1;
/**
 * Price of large weights, as if each were drawn around 0 with a standard deviation of 1 (an assumption): a few corrections
 * move little, dozens of the same move much.
 */
const PRICE = 1;
/** Of the descent at most, and the slope from which on it is at its end. */
const STEPS = 2000;
const FLAT = 1e-7;
/** Of a cause that cannot be: its logarithm is taken all the same. */
export const LEAST_LIKELY = 1e-6;

export const nothingLearnt: Layer = { weights: new Float64Array(CAUSES * COLUMNS) };

/** Probability of each cause, as the network and what was learnt have it together. */
export function adjusted({ weights }: Layer, probabilities: readonly number[]): number[] {
  const values = new Array<number>(CAUSES);
  let highest = Number.NEGATIVE_INFINITY;
  for (let c = 0, w = 0; c < CAUSES; c++, w++) {
    let value = Math.log(Math.max(probabilities[c]!, LEAST_LIKELY));
    for (let i = 0; i < CAUSES; i++, w++) value += probabilities[i]! * weights[w]!;
    value += weights[w]!;
    values[c] = value;
    highest = Math.max(highest, value);
  }
  let all = 0;
  for (let c = 0; c < CAUSES; c++) {
    values[c] = Math.exp(values[c]! - highest);
    all += values[c]!;
  }
  for (let c = 0; c < CAUSES; c++) values[c]! /= all;
  return values;
}

/** What learning makes as small as it can, and its slope along each weight. */
export function priceOf(layer: Layer, examples: readonly Example[]): { price: number; slope: Float64Array } {
  const { weights } = layer;
  let price = (PRICE / 2) * weights.reduce((sum, w) => sum + w * w, 0);
  const slope = weights.map((w) => PRICE * w);
  for (const { probabilities, cause } of examples) {
    const said = adjusted(layer, probabilities);
    const truth = outputs.indexOf(cause);
    price -= Math.log(said[truth]!);
    for (let c = 0, w = 0; c < CAUSES; c++, w++) {
      const off = said[c]! - Number(c === truth);
      for (let i = 0; i < CAUSES; i++, w++) slope[w]! += off * probabilities[i]!;
      slope[w]! += off;
    }
  }
  return { price, slope };
}

/**
 * Learns from examples. The price has one lowest point, so that nothing is drawn by chance: the same examples give the
 * same layer. Descent with momentum (Nesterov 1983, Soviet Mathematics Doklady 27:372-376); its step is safe because the
 * inputs of an example have squares that add up to 2 at most, and the softmax halves that.
 */
export function learn(examples: readonly Example[]): Layer {
  const steepest = PRICE + examples.length;
  const kept = (Math.sqrt(steepest) - Math.sqrt(PRICE)) / (Math.sqrt(steepest) + Math.sqrt(PRICE));
  let weights = nothingLearnt.weights;
  let ahead = weights;
  for (let step = 0; step < STEPS; step++) {
    const { slope } = priceOf({ weights: ahead }, examples);
    if (slope.every((s) => Math.abs(s) < FLAT)) break;
    const next = ahead.map((w, i) => w - slope[i]! / steepest);
    ahead = next.map((w, i) => w + kept * (w - weights[i]!));
    weights = next;
  }
  return { weights };
}
