import { z } from 'zod';

/** No recording is longer, and no time in one later: thirty years, in seconds. */
export const LATEST = 1e9;

/** m:ss or h:mm:ss, with any number of decimals; every part but the first has two digits. */
const CLOCK = /^(?:[0-9]{1,7}:[0-5][0-9]|[0-9]{1,7}):[0-5][0-9](?:\.[0-9]+)?$/;

/**
 * "0:12.4" or "1:02:03.5" in seconds, exactly the number that the same decimals stand for; undefined for anything else, a
 * bare number of seconds among it.
 */
export function secondsOf(text: string): number | undefined {
  if (!CLOCK.test(text)) return undefined;
  const [clock, decimals = ''] = text.split('.') as [string, string?];
  const whole = clock.split(':').reduce((sum, part) => 60 * sum + Number(part), 0);
  // Read as one decimal number, not added up: 12 + 0.4 is not always 12.4 in binary.
  return Number(`${whole}.${decimals}`);
}

const clockTime = z
  .string()
  .regex(CLOCK)
  .transform((text) => secondsOf(text) as number);

/**
 * A time from the clip's start as a file may give it: seconds, or as all output prints them. Read, it is seconds.
 * @param seconds what the number must be
 */
export function time(seconds: z.ZodNumber) {
  return z.union([seconds, clockTime], { error: ({ input }) => expectedTime(input) });
}

function expectedTime(found: unknown): string {
  const bare = typeof found === 'string' && /^\s*[-+.0-9]+\s*$/.test(found);
  return `seconds or "m:ss", such as 72.4${bare ? ' (without quotation marks)' : ''} or "1:12.4"`;
}

/** Minutes that the clock of an RFC 3339 time, or a zone as it ends in, is ahead of UTC. */
export function zoneOf(start: string): number {
  const [, sign, hours = '0', minutes = '0'] = /([+-])(\d\d):?(\d\d)$/.exec(start) ?? [];
  return (sign === '-' ? -1 : 1) * (60 * Number(hours) + Number(minutes));
}
