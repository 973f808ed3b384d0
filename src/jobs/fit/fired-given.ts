import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { placed } from '../../fit/fired/placed.js';
import { isPhotoFolder, readFired } from '../../fit/fired/read-fired.js';
import { stampOf } from '../../fit/fired/stamps.js';
import { FARTHEST_OFF, type Told } from '../../fit/fired/told.js';
import type { OpenPorts } from '../ports.js';
import { countedNotes } from './counted.js';
import { roundSeconds } from './rounded.js';

/** When a real camera fired, as it was written down or as its photos tell. */
export interface FiredGiven {
  /** A file of times or a folder of photos by its path; or the times, seconds from the clip's start or RFC 3339. */
  fired: string | readonly (number | string)[];
  /** Photos that the camera takes at each trigger; left out: as they show it themselves, or else as `camera` has it. */
  photos?: number | undefined;
}

/** As many photos a trigger as a description may say. */
export const MOST_PHOTOS = 1000;

/**
 * The triggers that the given times tell of, placed on the clip as far as that can be done before its frames are read.
 * @param base what the owner knows of the camera; null: nothing
 * @returns also what to call the times in messages, and how photos were counted as triggers
 * @throws Problem for times that cannot be read, that are none, or that cannot be of this clip
 */
export async function toldBy(
  { fired, photos }: FiredGiven,
  clip: Clip,
  base: Camera | null,
  open: OpenPorts,
): Promise<{ told: Told; name: string; counted: string[] }> {
  const name = typeof fired === 'string' ? fired : 'fired';
  const stamps =
    typeof fired === 'string'
      ? await readFired(fired, open)
      : fired.map((one, i) => stampOf(one, `fired: [${i}]`));
  if (stamps.length === 0) {
    throw new Problem(
      'bad-times',
      `${name}: expected times at which the camera fired, found none; write down when it did`,
    );
  }
  if (photos !== undefined && photos > stamps.length) {
    throw new Problem(
      'usage',
      `--photos: expected at most as many photos a trigger as there are (${stamps.length} in ${name}), found ${photos}; give how many the camera takes each time it fires`,
    );
  }
  const told = placed(
    stamps,
    { start: clip.manifest.start, seconds: clip.seconds },
    name,
    base && base.burst.photos > 1 ? base.burst : null,
    photos,
  );
  const counted = countedNotes(told, {
    what: typeof fired === 'string' && (await isPhotoFolder(fired)) ? 'photo' : 'fired time',
    base,
    said: photos,
  });
  refuseElsewhere(told, clip, name);
  if (told.times.length > clip.times.length) {
    throw new Problem(
      'bad-times',
      `${name}: expected fewer times than the clip has frames (${clip.times.length}), found ${told.times.length}; give the times at which the camera fired`,
    );
  }
  return { told, name, counted };
}

function refuseElsewhere(
  told: Told,
  { manifest: { start }, seconds }: Pick<Clip, 'manifest' | 'seconds'>,
  file: string,
): void {
  const isNear = told.times.some((time) => time > -FARTHEST_OFF && time < seconds + FARTHEST_OFF);
  if (!told.isPlaced || isNear) return;
  const [first, last] = [told.times[0]!, told.times.at(-1)!];
  throw new Problem(
    'bad-times',
    `${file}: expected times while the clip was recorded (0 to ${roundSeconds(seconds)} s, give or take ${FARTHEST_OFF} s), found them from ${roundSeconds(first)} to ${roundSeconds(last)} s from its start; ${start === undefined ? 'times of day need "start" in clip.json: write it there' : 'check the camera\'s clock and "start" in clip.json'}`,
  );
}
