import type { Settings } from '../camera/settings.js';
import type { Score } from '../score/score.js';
import { byLuckText } from './luck.js';
import { byBouts, falseAnHour } from './ratios.js';
import { plural } from './wording.js';

/**
 * A score in one line: caught 8 of 9 visits (62–95 %); false triggers an hour 40 (7–126), 80 photos. The intervals are of 90 %,
 * that of the rate by bouts, as `perchmark replay` tells them.
 * @param settings those that were scored
 * @param photosPerTrigger how many photos the camera takes at each trigger
 */
export function scoreText(
  score: Score,
  settings: Pick<Settings, 'cooldown'>,
  photosPerTrigger: number,
): string {
  return `${visitsText(score)}; ${nothingText(score, settings, photosPerTrigger)}`;
}

/** caught 8 of 9 visits (62–95 %), 2 of them by luck: something else fired while the animal was there */
export function visitsText({ caught, visits, recall, byLuck }: Score): string {
  if (!recall) return 'no visits to catch';
  const percent = (x: number) => Math.round(100 * x);
  return `caught ${caught} of ${plural(visits, 'visit')} (${percent(recall.low)}–${percent(recall.high)} %)${byLuckText({ byLuck })}`;
}

/** false triggers an hour 40 (7–126), 80 photos; as Answer tells them */
export function nothingText(
  score: Score,
  settings: Pick<Settings, 'cooldown'>,
  photosPerTrigger: number,
): string {
  const perHour = byBouts(score, settings);
  if (!perHour) return 'no time without visits to tell false triggers from';
  return `false triggers an hour ${falseAnHour(perHour, photosPerTrigger)}`;
}

/** 6 times (12 photos): how often it fired, and what that comes to where a trigger takes several photos. */
export function timesText(triggers: number, photosPerTrigger: number): string {
  return inPhotos('time', triggers, photosPerTrigger);
}

function inPhotos(what: string, triggers: number, photosPerTrigger: number): string {
  const counted = plural(triggers, what);
  return photosPerTrigger === 1 ? counted : `${counted} (${plural(triggers * photosPerTrigger, 'photo')})`;
}

/** What an hour of nothingText is, and what is counted in it. */
export function hourText(photosPerTrigger: number): string {
  const each = photosPerTrigger === 1 ? '' : ` Each trigger takes ${photosPerTrigger} photos.`;
  return `An hour here is an hour with nothing in view: while animals are there the time does not count.${each}`;
}

/** Why there is no score. */
export const unlabelledText =
  'Without labels nothing can be said of visits and of photos of nothing: mark first when animals were in view.';

/** Whether labels let anything be said of it: visits that could be caught, or time in which it could fire at nothing. */
export function isTold({ visits, watchedHours }: Pick<Score, 'visits' | 'watchedHours'>): boolean {
  return visits > 0 || watchedHours > 0;
}

/** Two replays of one clip held against each other. */
export interface Balance {
  /** Visits that only the first catches, and only the second. */
  gained: number;
  lost: number;
  /** False triggers of the first more than of the second. */
  nothing: number;
}

/** 2 visits gained, 1 lost; 6 false triggers (12 photos) fewer */
export function balanceText({ gained, lost, nothing }: Balance, photosPerTrigger: number): string {
  const visits =
    gained === 0 && lost === 0 ? 'the same visits' : `${plural(gained, 'visit')} gained, ${lost} lost`;
  const falsely =
    nothing === 0
      ? 'as many false triggers'
      : `${inPhotos('false trigger', Math.abs(nothing), photosPerTrigger)} ${nothing > 0 ? 'more' : 'fewer'}`;
  return `${visits}; ${falsely}`;
}
