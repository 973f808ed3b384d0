import type { Camera } from '../camera/description.js';
import type { SiteResult } from '../jobs/tune.js';
import { byBouts, foretold } from './ratios.js';
import type { Between } from './wording.js';

/** Hours a day that a camera is out where nothing is said. */
export const WHOLE_DAY = 24;

/**
 * Photos of nothing that the recommended settings take in a day out; everywhere the same figure: of unseen footage where that
 * could be foretold, else as on the clips. 90 %, to two figures, for more of them would promise too much; null: nothing was
 * watched.
 */
export function photosOfNothingOut(
  { recommended }: Pick<SiteResult, 'recommended'>,
  { burst }: Pick<Camera, 'burst'>,
  hoursOut = WHOLE_DAY,
): Between | null {
  const rate = foretold(recommended) ?? byBouts(recommended.score, recommended.settings);
  const photos = (triggers: number) => roughly(triggers * hoursOut * burst.photos);
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
