import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';

const DAY = 86_400;

/**
 * A moment by the camera's own clock, as the user writes it: 2026-05-09 06:30, or 06:30 alone for a day that is known.
 * @param option that it was given with, for messages
 * @param day any moment of the day that is meant where none is said; null where no photo tells
 * @returns seconds as if the clock showed UTC
 * @throws Problem 'usage'
 */
export function momentOf(option: string, text: string, day: number | null): number {
  const [, date, hour, minute, second = '00'] =
    /^(?:(\d{4}-\d\d-\d\d)[ T])?(\d\d?):(\d\d)(?::(\d\d))?$/.exec(text.trim()) ?? [];
  const known =
    date ??
    (day === null ? undefined : new Date(Math.floor(day / DAY) * DAY * 1000).toISOString().slice(0, 10));
  const iso = `${known}T${hour?.padStart(2, '0')}:${minute}:${second}.000Z`;
  const moment = new Date(iso);
  // Date reads the 30th of February as the day after.
  if (
    hour !== undefined &&
    known !== undefined &&
    !Number.isNaN(moment.getTime()) &&
    moment.toISOString() === iso
  ) {
    return moment.getTime() / 1000;
  }
  throw new Problem(
    'usage',
    `${option}: expected a time by the camera's own clock, such as "2026-05-09 06:30" or 06:30, found ${quoted(text)}${/[Z+]|\d-\d\d:/.test(text.slice(10)) ? ' (without a zone)' : ''}`,
  );
}

/**
 * What a clock is ahead of UTC, as the user writes it: +01:00, -5, or Z for UTC.
 * @returns minutes
 * @throws Problem 'usage'
 */
export function offsetOf(option: string, text: string): number {
  const [, zulu, sign, hours = '0', minutes = '0'] =
    /^(?:([Zz])|([+-])(\d\d?)(?::?([0-5]\d))?)$/.exec(text.trim()) ?? [];
  const ahead = 60 * Number(hours) + Number(minutes);
  if (zulu !== undefined || (sign !== undefined && ahead <= MOST_AHEAD)) return sign === '-' ? -ahead : ahead;
  throw new Problem(
    'usage',
    `${option}: expected what the camera's clock is ahead of UTC, such as +01:00, or Z, found ${quoted(text)}`,
  );
}

/** Minutes: no place is farther from UTC. */
const MOST_AHEAD = 18 * 60;
