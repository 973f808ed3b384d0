import type { Unseen } from './unseen.js';

/** How much a recording tells: enough to act on, a hint, or too little to say which settings are best. */
export type Tells = 'enough' | 'hint' | 'too little';

/** Visits below which nothing is said, and below which it is a hint. */
export const [FEWEST_TO_SAY, FEWEST_TO_BE_SURE] = [8, 20];

/** What a choice that rests on so many visits can tell. */
export function tellsOf(visits: number, unseen: Unseen): Tells {
  if (visits < FEWEST_TO_SAY || unseen.how === 'too little to tell') return 'too little';
  return visits < FEWEST_TO_BE_SURE ? 'hint' : 'enough';
}

/** The least that any of several tell. */
export function leastOf(all: readonly Tells[]): Tells {
  return (['too little', 'hint'] as const).find((tells) => all.includes(tells)) ?? 'enough';
}
