import type { SiteResult } from '../jobs/tune.js';
import type { Score } from '../score/score.js';
import { plural } from './wording.js';

/** What it is to catch a visit by luck. */
export const whatLuckIs = 'something else fired while the animal was there';

/** , 3 of them by luck: something else fired while the animal was there. To stand after a count; empty where none was. */
export function byLuckText({ byLuck }: Pick<Score, 'byLuck'>): string {
  return byLuck === null || byLuck === 0 ? '' : `, ${byLuck} of them by luck: ${whatLuckIs}`;
}

/** How many visits the recommended settings, and those of today, catch by luck; empty where none was. */
export function luckOfSite({ recommended, now }: Pick<SiteResult, 'recommended' | 'now'>): string {
  const told = [
    { who: 'these settings catch', score: recommended.score },
    { who: now.assumed ? 'the dials at their middle catch' : 'what you use now catches', score: now.score },
  ].flatMap(({ who, score }) =>
    score.byLuck === null || score.byLuck === 0
      ? []
      : [`of the ${plural(score.caught, 'visit')} that ${who}, ${score.byLuck}`],
  );
  if (told.length === 0) return '';
  const text = `${told.join(', and ')} by luck: ${whatLuckIs}. Nothing was chosen for visits caught so.`;
  return text.charAt(0).toUpperCase() + text.slice(1);
}
