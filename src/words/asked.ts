import type { Camera } from '../camera/description.js';
import type { SiteResult } from '../jobs/tune.js';
import { photosOfNothingOut, WHOLE_DAY } from './photos-out.js';
import { figure, watched } from './wording.js';

/**
 * How many photos of nothing the recommended settings are to be expected to take against what was asked for, and whether so much
 * recording tells: More than the 50 that are allowed; too little is recorded to tell: record 1.9 watched hours.
 * @param hoursOut a day; left out: all day
 * @returns null: nobody said how many may be, or nothing was watched
 */
export function askedText(
  { recommended, allowance }: Pick<SiteResult, 'recommended' | 'allowance'>,
  camera: Pick<Camera, 'burst'>,
  hoursOut = WHOLE_DAY,
): string | null {
  const photos = photosOfNothingOut({ recommended }, camera, hoursOut);
  if (allowance === null || photos === null) return null;
  const allowed = allowance.falsePerHour * hoursOut * camera.burst.photos;
  // Expected photos are told to two figures.
  const against = photos.value > Number(allowed.toPrecision(2)) ? 'More than' : 'No more than';
  const hours = hoursItTakes(allowance);
  const isShort = hours !== null && recommended.score.watchedHours < hours;
  const short = isShort ? `; too little is recorded to tell: record ${watched(hours)}` : '';
  return `${against} the ${figure(allowed)} that are allowed${short}.`;
}

/**
 * Watched hours that it takes to tell whether an allowance is kept: one figure, wherever it is said. Where it was said how surely,
 * as many as that takes; else by the rule of three. Null: it can never be told.
 */
export function hoursItTakes({
  sure,
  hoursToBeSure,
  hoursNeeded,
}: NonNullable<SiteResult['allowance']>): number | null {
  return sure === null ? hoursNeeded : hoursToBeSure;
}
