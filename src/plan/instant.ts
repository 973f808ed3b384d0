import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';

/** An instant, with the clock it was written by. */
export interface Instant {
  /** Milliseconds since 1970 in UTC. */
  ms: number;
  /** What the clock is ahead of UTC, minutes. */
  offset: number;
  /** As it was written. */
  text: string;
}

const MINUTE = 60_000;
/** Whatever is farther away was mistyped, and beyond 9999 RFC 3339 has no times. */
const [FIRST_YEAR, LAST_YEAR] = [1900, 2999];
/** Minutes; no clock of any place is farther from UTC. */
const FARTHEST_ZONE = 18 * 60;
const RFC_3339 =
  /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d)(?::(\d\d)(\.\d+)?)?(?:([Zz])|([+-])(\d\d):?(\d\d))?$/;

/** A date and time of day as RFC 3339 writes them, with its zone or without; seconds may be left out. */
export interface WrittenTime {
  /** Milliseconds since 1970, were its clock that of UTC; of whole seconds. */
  local: number;
  /** Of a second, below 1. */
  fraction: number;
  /** What its clock is ahead of UTC, minutes; null: nothing says. */
  offset: number | null;
}

/** Reads one, or says why it is none. */
export function writtenTime(text: string): WrittenTime | 'malformed' | 'no such time' | 'no such zone' {
  const parts = RFC_3339.exec(text);
  if (!parts) return 'malformed';
  const [, year, month, day, hour, minute, second = '00', decimals = '', zulu, sign, hours, minutes] = parts;
  const iso = `${year}-${month}-${day}T${hour}:${minute}:${second}.000Z`;
  const moment = new Date(iso);
  // Date reads the 30th of February as the day after.
  if (Number.isNaN(moment.getTime()) || moment.toISOString() !== iso) return 'no such time';
  const ahead = (sign === '-' ? -1 : 1) * (60 * Number(hours ?? 0) + Number(minutes ?? 0));
  if (Number(minutes ?? 0) > 59 || Math.abs(ahead) > FARTHEST_ZONE) return 'no such zone';
  const offset = zulu === undefined && sign === undefined ? null : ahead;
  return { local: moment.getTime(), fraction: Number(`0${decimals}`), offset };
}

/**
 * Reads a time with its zone (RFC 3339; seconds may be left out).
 * @param where the place it stands, for messages
 * @throws Problem 'bad-times'
 */
export function parseInstant(text: string, where: string): Instant {
  const refuse = (expected: string, found: string, mend = ''): never => {
    throw new Problem('bad-times', `${where}: time: expected ${expected}, found ${found}${mend}`);
  };
  const example = 'such as 2026-05-04T06:00:00+01:00';
  const time = writtenTime(text);
  if (time === 'malformed') {
    return refuse(`RFC 3339 with a zone, ${example}`, text === '' ? 'nothing' : quoted(text));
  }
  const year = Number(text.slice(0, 4));
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    const years = `a year from ${FIRST_YEAR} to ${LAST_YEAR}`;
    return refuse(years, quoted(text), '; write the year that is meant');
  }
  if (typeof time === 'string') return refuse('a day and a time that there are', quoted(text));
  const { local, offset } = time;
  if (offset === null) {
    const mend = '; add Z for UTC, or what the clock is ahead of it';
    return refuse(`a zone behind the time, ${example}`, quoted(text), mend);
  }
  return { ms: local - offset * MINUTE, offset, text };
}

/** A later instant by the same clock. */
export function later(
  { ms, offset }: Pick<Instant, 'ms' | 'offset'>,
  by: number,
): { ms: number; offset: number } {
  return { ms: ms + by, offset };
}

/** What its clock shows, as a date in UTC would. */
function onClock({ ms, offset }: Pick<Instant, 'ms' | 'offset'>): Date {
  return new Date(ms + offset * MINUTE);
}

/** Hours since midnight by its clock, with a fraction. */
export function hourOfDay(instant: Pick<Instant, 'ms' | 'offset'>): number {
  const clock = onClock(instant);
  return clock.getUTCHours() + clock.getUTCMinutes() / 60;
}

/** 2026-05-04, by its clock. */
export function dayOf(instant: Pick<Instant, 'ms' | 'offset'>): string {
  return onClock(instant).toISOString().slice(0, 10);
}

/** 2026-05-04T06:00:00+01:00 */
export function rfc3339(instant: Pick<Instant, 'ms' | 'offset'>): string {
  const two = (n: number) => String(Math.trunc(n)).padStart(2, '0');
  const { offset } = instant;
  const zone =
    offset === 0
      ? 'Z'
      : `${offset < 0 ? '-' : '+'}${two(Math.abs(offset) / 60)}:${two(Math.abs(offset) % 60)}`;
  return `${onClock(instant).toISOString().slice(0, 19)}${zone}`;
}

const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Mon 4 May, by its clock. */
export function dayText(instant: Pick<Instant, 'ms' | 'offset'>): string {
  const clock = onClock(instant);
  return `${DAYS[clock.getUTCDay()]} ${clock.getUTCDate()} ${MONTHS[clock.getUTCMonth()]}`;
}

/** 06:00, by its clock. */
export function clockText(instant: Pick<Instant, 'ms' | 'offset'>): string {
  return onClock(instant).toISOString().slice(11, 16);
}
