import { plural } from '../../base/figures.js';
import type { Camera } from '../../camera/description.js';
import type { PhotoFolder } from '../../clip/photo-folder.js';
import { type HoursOut, hoursIn, type Outing } from '../../outing/evening/hours-out.js';
import { BOUT } from '../../score/bouts.js';
import type { Held } from './held.js';

/** What stood in for what nobody said, a line each. */
export function assumptions(outing: Outing | null, promised: Held | null, camera: Camera | null): string[] {
  return [
    ...(outing ? hoursAssumed(outing) : []),
    ...(promised?.nothing ? [`nothing was promised: ${promised.nothing}`] : []),
    ...(promised
      ? [
          ...(promised.withheld === null && promised.photosPerTrigger !== null
            ? [`${plural(promised.photosPerTrigger, 'photo')} a trigger, ${saidBy(promised, camera)}`]
            : []),
          'time in which animals or people were in view is not taken off the hours, as it is where a rate is promised',
        ]
      : []),
    ...(promised?.kind === 'plan' && promised.clock === null && promised.withheld === null
      ? ["the camera's clock shows the local time that the plan is in"]
      : []),
  ];
}

/** Which photos stand in for hours that nobody said, and what that leaves out. */
function hoursAssumed({ out: { said }, photos, counted: inRate }: Outing): string[] {
  if (said.from && said.until) return [];
  const [span, counted, bunches, better] =
    !said.from && !said.until
      ? [
          'from the first photo to the last',
          `from ${BOUT} s after the first to where the last bunch of them began`,
          'the first and the last bunch',
          'those that you give are',
        ]
      : said.from
        ? [
            'until the last photo',
            'to where the last bunch of them began',
            'the last bunch',
            'an end that you give is',
          ]
        : [
            'from the first photo on',
            `from ${BOUT} s after the first`,
            'the first bunch',
            'a beginning that you give is',
          ];
  const left = photos.length - inRate.length;
  return [
    `hours out: ${span}, though the camera may have been out longer without firing; photos an hour are counted ${counted}, for ${plural(left, 'photo')} of ${bunches} (${BOUT} s) ${left === 1 ? 'marks' : 'mark'} the hours (${better} better)`,
  ];
}

function saidBy({ saidBy }: Held, camera: Camera | null): string {
  if (saidBy === 'photos') {
    return camera
      ? 'as most of them came, which a camera as described does not take'
      : 'as nearly all bunches of photos show (the description of the camera that took them goes before)';
  }
  if (camera) return `as the ${camera.name} takes`;
  return 'as the promise was made for (the description of the camera that took them goes before)';
}

/** What should be known of the photos, a line each. */
export function notesOn(
  wentBack: PhotoFolder['wentBack'],
  withoutTime: number,
  all: number,
  out: HoursOut | null,
  promised: Held | null,
  camera: Camera | null,
): string[] {
  return [
    ...(wentBack
      ? [
          `The camera's clock went back ${wentBack.times === 1 ? 'once' : `${wentBack.times} times`}, first at ${wentBack.first}: hours, and whatever is told an hour, are by what the photos say and may be wrong.`,
        ]
      : []),
    ...(withoutTime > 0
      ? [
          `${withoutTime} of ${all} photos tell no time, neither by EXIF nor by name, or were taken by a clock that was not set: they count in the whole, not by hour.`,
        ]
      : []),
    ...(out && hoursIn(out) > LONG
      ? [
          `From the first photo to the last it is ${Math.round(hoursIn(out) / 24)} days: were the camera not out all that time, say from when until when it was, or give each day's folder by itself.`,
        ]
      : []),
    ...(promised?.saidBy === 'camera' &&
    promised.shown !== null &&
    promised.shown !== promised.photosPerTrigger
      ? [
          `The camera is said to take ${plural(promised.photosPerTrigger ?? 0, 'photo')} a trigger, but most photos came ${promised.shown === 1 ? 'one by one' : `${promised.shown} at a time`}: is it the right description?`,
        ]
      : []),
    ...(promised?.saidBy === 'photos' && camera !== null
      ? [
          `Most photos came ${promised.shown} at a time, as this camera would not take them that fires for ${plural(camera.burst.photos, 'photo')} a trigger, and are counted so: put its photos a trigger right ("burst" in camera.json).`,
        ]
      : []),
  ];
}

/** Hours: longer than anybody calls an evening. */
const LONG = 72;
