import { BOUT } from '../../score/bouts.js';
import { HOUR, type TimedPhoto } from './photo.js';

/** When the camera was out, by its own clock. */
export interface HoursOut {
  from: number;
  until: number;
  /** Whether somebody said so; else the photos at that end stand in. */
  said: { from: boolean; until: boolean };
}

/** A stretch of seconds, by the camera's clock. */
export interface Span {
  from: number;
  until: number;
}

/** The hours out, the photos taken in them, and those of these that count in a rate, which is one over `counting`. */
export interface Outing<P extends TimedPhoto = TimedPhoto> {
  out: HoursOut;
  photos: P[];
  counting: Span;
  counted: P[];
}

/**
 * The hours that a camera was out, and the photos that count in a rate over them. Where nobody says when it began or ended,
 * the first and the last bunch of photos mark it and are not counted themselves: given when the first and the last event of
 * a Poisson process were, those between them are a Poisson count of the time between them (Cox & Lewis 1966, The Statistical
 * Analysis of Series of Events, from memory), so that few photos close together do not pass for many an hour. The time that they
 * are counted over is that in which they would have counted: from BOUT seconds after the first photo to where the last bunch began.
 * @param timed in order of time
 * @returns null where there is no time between the two ends, or where nobody says either and no photo lies between them, for
 * then all that came only marks the ends
 */
export function hoursOut<P extends TimedPhoto>(
  timed: readonly P[],
  given: { from?: number | undefined; until?: number | undefined },
): Outing<P> | null {
  const [first, last] = [timed[0]?.time, timed.at(-1)?.time];
  const [from, until] = [given.from ?? first, given.until ?? last];
  const said = { from: given.from !== undefined, until: given.until !== undefined };
  if (from === undefined || until === undefined) return null;
  const counting = {
    from: said.from ? from : from + BOUT,
    until: said.until ? until : (startOfLastBout(timed) ?? until),
  };
  if (!(counting.until > counting.from)) return null;
  const photos = timed.filter(({ time }) => time >= from && time <= until);
  const counted = photos.filter(
    ({ time }) => (said.from || time > counting.from) && (said.until || time < counting.until),
  );
  if (!said.from && !said.until && counted.length === 0) return null;
  return { out: { from, until, said }, photos, counting, counted };
}

/** Of the photos within BOUT seconds of the last, the first. */
function startOfLastBout(timed: readonly TimedPhoto[]): number | undefined {
  const last = timed.at(-1);
  return last && timed.find(({ time }) => last.time - time <= BOUT)?.time;
}

/** Hours of a stretch of seconds. */
export function hoursIn({ from, until }: Span): number {
  return Math.max(0, until - from) / HOUR;
}
