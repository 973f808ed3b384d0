import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { LATEST, secondsOf } from '../base/time.js';

/** When a camera fired, as somebody wrote it. */
export type Stamp =
  /** Seconds from the clip's start. */
  | { from: 'clip'; seconds: number }
  /** Hours, minutes and seconds: since the clip's start or since midnight, whichever lies on the clip. */
  | { from: 'day'; seconds: number }
  /** Seconds since 1970; `zone` is what the clock is ahead of UTC in minutes, null where nobody says (then counted as if UTC). */
  | { from: '1970'; seconds: number; zone: number | null };

const DATE_AND_TIME =
  /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d)(?::(\d\d)(\.\d+)?)?(?:([Zz])|([+-])(\d\d):?(\d\d))?$/;
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
  const [
    ,
    year,
    month,
    day,
    hour,
    minute,
    second = '00',
    decimals = '',
    zulu,
    sign,
    hours = '0',
    minutes = '0',
  ] = DATE_AND_TIME.exec(plain.replace(YEAR_FIRST, '$1-$3-$4').replace(DAY_FIRST, '$3-$2-$1')) ?? [];
  if (year === undefined) return refuse();
  const iso = `${year}-${month}-${day}T${hour}:${minute}:${second}.000Z`;
  const moment = new Date(iso);
  // Date reads the 30th of February as the day after.
  if (Number.isNaN(moment.getTime()) || moment.toISOString() !== iso)
    return refuse('; there is no such day or time');
  const ahead = (sign === '-' ? -1 : 1) * (60 * Number(hours) + Number(minutes));
  const zone = zulu === undefined && sign === undefined ? null : ahead;
  const told = moment.getTime() / 1000 + Number(`0${decimals}`);
  return { from: '1970', seconds: told - 60 * (zone ?? 0), zone };
}

/** Minutes that the clock of an RFC 3339 time is ahead of UTC. */
export function zoneOf(start: string): number {
  const [, sign, hours = '0', minutes = '0'] = /([+-])(\d\d):?(\d\d)$/.exec(start) ?? [];
  return (sign === '-' ? -1 : 1) * (60 * Number(hours) + Number(minutes));
}
