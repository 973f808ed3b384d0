import { BOUT } from '../../score/bouts.js';
import { HOUR, type TimedPhoto } from './photo.js';

/** When the camera was out, by its own clock. */
export interface HoursOut {
  from: number;
  until: number;
  /** Whether somebody said so; else the photos at that end stand in. */
  said: { from: boolean; until: boolean };
}

/** The hours out, the photos taken in them, and those of these that count in a rate. */
export interface Outing<P extends TimedPhoto = TimedPhoto> {
  out: HoursOut;
  photos: P[];
  counted: P[];
}

/**
 * The hours that a camera was out, and the photos that count in a rate over them. Where nobody says when it began or ended,
 * the first and the last bunch of photos mark it and are not counted themselves: given when the first and the last event of
 * a Poisson process were, those between them are a Poisson count of the time between them (Cox & Lewis 1966, The Statistical
 * Analysis of Series of Events, from memory), so that few photos close together do not pass for many an hour.
 * @param timed in order of time
 * @returns null where there is no time between the two ends, or where nobody says either and no photo lies between them, for
 * then all that came only marks the ends
 */
export function hoursOut<P extends TimedPhoto>(
  timed: readonly P[],
  given: { from?: number | undefined; until?: number | undefined },
): Outing<P> | null {
  const first = timed[0]?.time;
  const from = given.from ?? first;
  const until = given.until ?? startOfLastBout(timed);
  if (from === undefined || until === undefined || !(until > from)) return null;
  const said = { from: given.from !== undefined, until: given.until !== undefined };
  const photos = timed.filter(({ time }) => (!said.from || time >= from) && (!said.until || time <= until));
  const counted = photos.filter(
    ({ time }) => (said.from || time - from > BOUT) && (said.until || time < until),
  );
  if (!said.from && !said.until && counted.length === 0) return null;
  return { out: { from, until, said }, photos, counted };
}

/** Of the photos within BOUT seconds of the last, the first. */
function startOfLastBout(timed: readonly TimedPhoto[]): number | undefined {
  const last = timed.at(-1);
  return last && timed.find(({ time }) => last.time - time <= BOUT)?.time;
}

/** Hours of a stretch of seconds. */
export function hoursIn({ from, until }: { from: number; until: number }): number {
  return Math.max(0, until - from) / HOUR;
}
