import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { hoursOut, type Outing } from '../../outing/evening/hours-out.js';
import { momentOf } from './clock.js';
import type { EveningCalled, EveningInput, SeenPhoto } from './result.js';

/** The options of the command line. */
export const BY_OPTIONS: EveningCalled = { clock: '--clock', from: '--from', until: '--until' };

export type Timed = SeenPhoto & { time: number };

/**
 * When the camera was out, by what was given and by the photos.
 * @param timed in order of time
 * @returns null where nothing was given, and no two photos tell
 * @throws Problem 'usage' for hours that cannot be, or hold no photo
 */
export function hoursGiven(
  {
    folder,
    from,
    until,
    called,
  }: Pick<EveningInput, 'folder' | 'from' | 'until'> & { called: EveningCalled },
  timed: readonly Timed[],
): Outing<Timed> | null {
  const [first, last] = [timed[0], timed.at(-1)];
  const option = from === undefined ? called.until : called.from;
  if (from === undefined && until === undefined) return hoursOut(timed, {});
  if (!first || !last) {
    throw new Problem(
      'usage',
      `${option}: expected photos that tell their time, found none in ${folder}; leave it out, all photos count then`,
    );
  }
  const given = {
    from: from === undefined ? undefined : momentOf(called.from, from, first.time),
    until: until === undefined ? undefined : momentOf(called.until, until, last.time),
  };
  if (given.from !== undefined && given.until !== undefined && given.until <= given.from) {
    throw new Problem(
      'usage',
      `${called.until}: expected a time after that of ${called.from}, ${JSON.stringify(from)}, found ${JSON.stringify(until)}; after midnight say the day too, "2026-05-10 06:30"`,
    );
  }
  const outing = hoursOut(timed, given);
  const span = `${momentText(first.time)} to ${momentText(last.time)} by the camera's clock`;
  if (!outing) {
    const [wanted, found, other] =
      from === undefined
        ? ['after the first photo', until!, `${called.from} when it began`]
        : ['before the last photos', from, `${called.until} when it ended`];
    throw new Problem(
      'usage',
      `${option}: expected a time ${wanted}, found ${quoted(found)}; the photos are of ${span}; mend the time (with its day, where there are several), or say with ${other}`,
    );
  }
  if (outing.photos.length === 0) {
    throw new Problem(
      'usage',
      `${folder}: expected photos in the hours given, found none; they are of ${span}`,
    );
  }
  return outing;
}

/** 2026-05-09 06:30, by the camera's own clock. */
function momentText(time: number): string {
  return new Date(time * 1000).toISOString().slice(0, 16).replace('T', ' ');
}
