import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { LATEST, secondsOf } from '../../base/time.js';
import { writtenTime } from '../../plan/instant.js';

/** When a camera fired, as somebody wrote it. */
export type Stamp =
  /** Seconds from the clip's start. */
  | { from: 'clip'; seconds: number }
  /** Hours, minutes and seconds: since the clip's start or since midnight, whichever lies on the clip. */
  | { from: 'day'; seconds: number }
  /** Seconds since 1970; `zone` is what the clock is ahead of UTC in minutes, null where nobody says (then counted as if UTC). */
  | { from: '1970'; seconds: number; zone: number | null };

/** Dates of which the order of day and month is plain: the year first, or full stops, which put the day first wherever they are used. */
const YEAR_FIRST = /^(\d{4})([/.:])(\d\d)\2(\d\d)(?=[Tt ])/;
const DAY_FIRST = /^(\d\d)\.(\d\d)\.(\d{4})(?=[Tt ])/;
const EITHER_FIRST = /^\d{1,2}[/-]\d{1,2}[/-]\d{4}/;
const TIME_OF_DAY = /^(?:[01]?\d|2[0-3]):[0-5]\d:[0-5]\d(?:\.\d+)?$/;
const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;

export const EXPECTED =
  'seconds from the start of the clip, such as 72.4 or 1:12.4, or a date and time, such as 2026-05-04T06:11:12+01:00';

/**
 * Reads one fired time.
 * @param where it stands, for messages
 * @throws Problem 'bad-times'
 */
export function stampOf(found: unknown, where: string): Stamp {
  const refuse = (text = ''): never => {
    const shown = typeof found === 'string' ? quoted(found) : JSON.stringify(found);
    throw new Problem('bad-times', `${where}: expected ${EXPECTED}, found ${shown}${text}`);
  };
  const plain = typeof found === 'string' ? found.trim() : found;
  if (typeof plain === 'string' && TIME_OF_DAY.test(plain)) {
    return { from: 'day', seconds: secondsOf(plain)! };
  }
  const seconds =
    typeof plain === 'number'
      ? plain
      : typeof plain === 'string' && NUMBER.test(plain)
        ? Number(plain)
        : typeof plain === 'string'
          ? secondsOf(plain)
          : undefined;
  if (seconds !== undefined) {
    if (Math.abs(seconds) < LATEST) return { from: 'clip', seconds };
    return refuse(
      ', which no recording is long enough for; seconds since 1970 are written as a date and time',
    );
  }
  if (typeof plain !== 'string') return refuse();
  if (EITHER_FIRST.test(plain)) {
    return refuse(', of which nobody can tell the day from the month; write the year first');
  }
  const time = writtenTime(plain.replace(YEAR_FIRST, '$1-$3-$4').replace(DAY_FIRST, '$3-$2-$1'));
  if (time === 'malformed') return refuse();
  if (time === 'no such time') return refuse('; there is no such day or time');
  if (time === 'no such zone') return refuse('; there is no such zone');
  const { local, fraction, offset } = time;
  return { from: '1970', seconds: local / 1000 + fraction - 60 * (offset ?? 0), zone: offset };
}
