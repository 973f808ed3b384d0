import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';
import { leaveForVisits } from '../../tune/leave-for-visits.js';
import { poolOf } from '../../tune/pool.js';
import type { Swept } from '../../tune/site-result.js';
import type { OpenPorts } from '../ports.js';
import { photosThatLast } from './lasts.js';

/** How many photos of nothing one more visit is worth looking through, where nothing is said. */
export const USUAL_WORTH = 10;

/**
 * What is wanted: as many visits as are to be had within so many false triggers per watched hour, or within so many photos of
 * nothing a day over the hours that the camera is out, or within what leaves a battery that lasts so many hours, kept with
 * probability `sure`; or whatever is worth most, where one more visit is worth looking through so many photos of nothing.
 */
export type Wanted =
  | { falsePerHour: number; sure?: number | undefined }
  | { photosPerDay: number; hoursOut: number; sure?: number | undefined }
  | { lasts: number; sure?: number | undefined }
  | { worth: number };

/** What may be in any hour: so many false triggers, or the like of so many photos of nothing a day. */
export type AllowanceWanted = { falsePerHour: number } | { photosPerDay: number; hoursOut: number };

/** What is wanted, in a camera's triggers. */
export function goalOf(
  wanted: Wanted | undefined,
  camera: Camera,
  { onWarning }: Pick<OpenPorts, 'onWarning'>,
): Goal {
  const { photos: photosPerTrigger } = camera.burst;
  if (!wanted) return { kind: 'worth', photos: USUAL_WORTH, photosPerTrigger };
  if ('worth' in wanted) {
    if (!(wanted.worth > 0)) {
      throw new Problem('usage', `wanted: worth: expected a number above 0, found ${wanted.worth}`);
    }
    return { kind: 'worth', photos: wanted.worth, photosPerTrigger };
  }
  const { sure } = wanted;
  const falsePerHour = allowedTriggers(wanted, camera, onWarning);
  if (!(falsePerHour >= 0)) {
    throw new Problem(
      'usage',
      `wanted: expected numbers of at least 0 (photosPerDay with hoursOut, the hours a day that the camera is out), found ${JSON.stringify(wanted)}`,
    );
  }
  return {
    kind: 'allowance',
    falsePerHour,
    ...(sure !== undefined && { sure }),
  };
}

/** False triggers an hour that may be. */
function allowedTriggers(
  wanted: Exclude<Wanted, { worth: number }>,
  camera: Camera,
  onWarning: (line: string) => void,
): number {
  if ('falsePerHour' in wanted) return wanted.falsePerHour;
  const { photos } = camera.burst;
  if ('photosPerDay' in wanted) return wanted.photosPerDay / wanted.hoursOut / photos;
  const { photosPerHour, reckoned } = photosThatLast(camera, wanted.lasts);
  onWarning(reckoned);
  return photosPerHour / photos;
}

/** The same at one site, by what was recorded there: a battery feeds the photos at visits too. */
export function goalAt(
  asked: Goal,
  wanted: Wanted | undefined,
  judged: readonly Pick<Swept, 'whole'>[],
  grid: Grid,
): Goal {
  if (!wanted || !('lasts' in wanted)) return asked;
  return leaveForVisits(asked, poolOf(judged.map(({ whole }) => whole)), grid);
}
