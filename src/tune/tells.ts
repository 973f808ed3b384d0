import type { RecallPrediction } from './predict.js';

/** What a recording can tell of the settings to use: enough, a hint, or too little to rest anything on. */
export type Tells = 'enough' | 'hint' | 'too little';

/** Fewer visits than this are too little, whatever else is known. */
export const FEWEST_TO_TELL = 8;
/** Fewer visits than this are a hint. */
export const FEWEST_FOR_ENOUGH = 20;

/** What can be told from so many visits, and what they let say of unseen footage. */
export function tellsOf(visits: number, unseen: { recall: RecallPrediction | null }): Tells {
  if (visits < FEWEST_TO_TELL || unseen.recall === null) return 'too little';
  return visits < FEWEST_FOR_ENOUGH ? 'hint' : 'enough';
}

/** Of several sites the worst. */
export function worstOf(all: readonly Tells[]): Tells {
  const order: readonly Tells[] = ['too little', 'hint', 'enough'];
  return order.find((tells) => all.includes(tells)) ?? 'too little';
}
