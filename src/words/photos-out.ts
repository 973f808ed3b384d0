import type { Camera } from '../camera/description.js';
import type { SiteResult } from '../jobs/tune.js';
import { byBouts } from './ratios.js';
import type { Between } from './wording.js';

/** Hours a day that a camera is out where nothing is said. */
export const WHOLE_DAY = 24;

/**
 * Photos of nothing that the recommended settings take in a day out; everywhere the same figure: of unseen footage where that
 * could be foretold, else as on the clips. 90 %, to two figures, for more of them would promise too much; null: nothing was
 * watched.
 */
export function photosOfNothingOut(
  { recommended: { score, unseen, settings } }: Pick<SiteResult, 'recommended'>,
  { burst }: Pick<Camera, 'burst'>,
  hoursOut = WHOLE_DAY,
): Between | null {
  const rate = unseen.falsePerHour ?? byBouts(score, settings);
  // What is foretold was chosen anew, maybe with a shorter cooldown: these settings cannot fire more often than theirs lets them.
  const most = settings.cooldown > 0 ? 3600 / settings.cooldown : Number.POSITIVE_INFINITY;
  const photos = (triggers: number) => roughly(Math.min(triggers, most) * hoursOut * burst.photos);
  return rate && { value: photos(rate.value), low: photos(rate.low), high: photos(rate.high) };
}

/** The same at the rate of the clips themselves, where that is not what was told; null where it is, or nothing was watched. */
export function photosOnClips(
  { recommended: { score, unseen } }: Pick<SiteResult, 'recommended'>,
  { burst }: Pick<Camera, 'burst'>,
  hoursOut = WHOLE_DAY,
): number | null {
  if (!unseen.falsePerHour || !score.falsePerHour) return null;
  return roughly(score.falsePerHour.value * hoursOut * burst.photos);
}

function roughly(x: number): number {
  return Number(x.toPrecision(2));
}
