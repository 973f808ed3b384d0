import type { Score } from '../score/score.js';
import { byLuckText } from './luck.js';
import { byBouts } from './ratios.js';
import { figure, plural } from './wording.js';

/**
 * A score in one line: caught 8 of 9 visits (62–95 %), 40 photos of nothing an hour (7–126). The intervals are of 90 %, that of
 * the rate by bouts, as `perchmark replay` tells them.
 * @param photosPerTrigger how many photos the camera takes at each trigger
 */
export function scoreText(score: Score, photosPerTrigger: number): string {
  return `${visitsText(score)}, ${nothingText(score, photosPerTrigger)}`;
}

/** caught 8 of 9 visits (62–95 %), 2 of them by luck: something else fired while the animal was there */
export function visitsText({ caught, visits, recall, byLuck }: Score): string {
  if (!recall) return 'no visits to catch';
  const percent = (x: number) => Math.round(100 * x);
  return `caught ${caught} of ${plural(visits, 'visit')} (${percent(recall.low)}–${percent(recall.high)} %)${byLuckText({ byLuck })}`;
}

/** 40 photos of nothing an hour (7–126) */
export function nothingText(score: Score, photosPerTrigger: number): string {
  const perHour = byBouts(score);
  if (!perHour) return 'no time without visits to tell photos of nothing from';
  const [value, low, high] = [perHour.value, perHour.low, perHour.high].map((rate) =>
    figure(rate * photosPerTrigger),
  );
  return `${value} ${value === '1' ? 'photo' : 'photos'} of nothing an hour (${low}–${high})`;
}

/** 6 times (12 photos): how often it fired, and what that comes to where a trigger takes several photos. */
export function timesText(triggers: number, photosPerTrigger: number): string {
  const times = plural(triggers, 'time');
  return photosPerTrigger === 1 ? times : `${times} (${plural(triggers * photosPerTrigger, 'photo')})`;
}

/** What an hour of nothingText is, and what is counted in it. */
export function hourText(photosPerTrigger: number): string {
  const each =
    photosPerTrigger === 1 ? '' : ` Photos are counted one by one, ${photosPerTrigger} each time it fires.`;
  return `An hour here is an hour with nothing in view: while animals are there the time does not count.${each}`;
}

/** Why there is no score. */
export const unlabelledText =
  'Without labels nothing can be said of visits and of photos of nothing: mark first when animals were in view.';

/** Two replays of one clip held against each other. */
export interface Balance {
  /** Visits that only the first catches, and only the second. */
  gained: number;
  lost: number;
  /** Photos of nothing that the first takes more than the second. */
  nothing: number;
}

/** 2 visits gained, 1 lost; 12 photos of nothing fewer */
export function balanceText({ gained, lost, nothing }: Balance): string {
  const visits =
    gained === 0 && lost === 0 ? 'the same visits' : `${plural(gained, 'visit')} gained, ${lost} lost`;
  const photos =
    nothing === 0
      ? 'as many photos of nothing'
      : `${plural(Math.abs(nothing), 'photo')} of nothing ${nothing > 0 ? 'more' : 'fewer'}`;
  return `${visits}; ${photos}`;
}
