import { inClipJson } from '../../base/about-clip.js';
import type { Conditions } from '../../weather/setup.js';

/** A clip and what it was recorded in, as far as that is noted or estimated. */
export interface Noted {
  clip: string;
  recordedIn: Conditions | null;
  simulated: boolean;
}

/** More clips than this are counted, not named. */
const MOST_NAMED = 3;

const kinds = [
  ['rain', 'no rain', 'conditions.rain in mm an hour'],
  ['light', 'daylight', 'conditions.light in lux'],
] as const;

/**
 * In one line for a site what its clips are taken to have been recorded in, where nobody noted it: rain can't be told from the
 * pictures, and light only by time and place. Wind, which is measured where it can be, is told clip by clip. Null where all is
 * noted.
 */
export function unsaidText(site: string | null, clips: readonly Noted[]): string | null {
  const recorded = clips.filter(({ simulated }) => !simulated);
  const unsaid = kinds.flatMap(([kind, taken, field]) => {
    const of = recorded.filter(({ recordedIn }) => recordedIn?.[kind] === undefined);
    return of.length === 0 ? [] : [{ taken, where: names(of), field }];
  });
  if (unsaid.length === 0) return null;
  const where = site === null ? '' : `${site}: `;
  const places = new Set(unsaid.map((one) => one.where));
  const taken = [...places]
    .map((place) => {
      const here = unsaid.filter((one) => one.where === place);
      return `${here.map((one) => one.taken).join(' and ')} in ${place}`;
    })
    .join(' and ');
  const fields = unsaid.map(({ field }) => field).join(' and ');
  return `${where}nobody noted it, so ${taken} is assumed; if it was otherwise, note it ${inClipJson(fields)}`;
}

function names(of: readonly Noted[]): string {
  const named = of.slice(0, MOST_NAMED).map(({ clip }) => clip);
  const more = of.length - named.length;
  return `${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}
