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
const RFC_3339 =
  /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d)(?::(\d\d)(?:\.\d+)?)?(?:([Zz])|([+-])(\d\d):?(\d\d))?$/;

/**
 * Reads a time with its zone (RFC 3339; seconds may be left out).
 * @param where the place it stands, for messages
 * @throws Problem 'bad-times'
 */
export function parseInstant(text: string, where: string): Instant {
  const parts = RFC_3339.exec(text);
  const example = 'such as 2026-05-04T06:00:00+01:00';
  if (!parts) {
    const found = text === '' ? 'nothing' : quoted(text);
    throw new Problem(
      'bad-times',
      `${where}: time: expected RFC 3339 with a zone, ${example}, found ${found}`,
    );
  }
  const [year, month, day, hour, minute, second] = parts.slice(1, 7).map((part) => Number(part ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const [, , , , , , , zulu, sign, hours = '0', minutes = '0'] = parts;
  if (zulu === undefined && sign === undefined) {
    throw new Problem(
      'bad-times',
      `${where}: time: expected a zone behind the time, ${example}, found ${quoted(text)}; add Z for UTC, or what the clock is ahead of it`,
    );
  }
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    throw new Problem(
      'bad-times',
      `${where}: time: expected a year from ${FIRST_YEAR} to ${LAST_YEAR}, found ${quoted(text)}; write the year that is meant`,
    );
  }
  const offset = (sign === '-' ? -1 : 1) * (60 * Number(hours) + Number(minutes));
  const local = Date.UTC(year, month - 1, day, hour, minute, second);
  const back = new Date(local);
  const isReal =
    back.getUTCFullYear() === year && back.getUTCMonth() === month - 1 && back.getUTCDate() === day;
  if (
    !isReal ||
    hour > 23 ||
    minute > 59 ||
    second > 59 ||
    Number(minutes) > 59 ||
    Math.abs(offset) > 18 * 60
  ) {
    throw new Problem(
      'bad-times',
      `${where}: time: expected a day and a time that there are, found ${quoted(text)}`,
    );
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
