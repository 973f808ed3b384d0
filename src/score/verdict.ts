import { TIME_TOLERANCE } from '../engine/triggers.js';
import { isIgnored, type Truth, visitsAt } from './truth.js';

/** What a trigger turned out to be. `visits` are all that its photos show; it belongs to the first of them. */
export type Verdict = { verdict: 'true'; visits: number[] } | { verdict: 'false' | 'ignored'; visits: [] };

/**
 * Judges one trigger by its time and its photos' times: true when a photo falls in an animal visit; else ignored
 * when its time or a photo falls in ignored time or the first photo comes after the clip's end; else false.
 */
export function judge(truth: Truth, time: number, photos: readonly number[]): Verdict {
  const visits = [...new Set(photos.flatMap((photo) => visitsAt(truth, photo)))].sort((a, b) => a - b);
  if (visits.length > 0) return { verdict: 'true', visits };
  const tooLate = (photos[0] ?? time) > truth.seconds + TIME_TOLERANCE;
  const ignored = tooLate || isIgnored(truth, time) || photos.some((photo) => isIgnored(truth, photo));
  return { verdict: ignored ? 'ignored' : 'false', visits: [] };
}
