import type { JudgedTrigger } from '../../../../score/replayed.js';
import { verdictWords } from '../../parts/verdict-words.js';
import type { Replayed } from '../../worker/replay.js';

/** A photo that the camera would have taken. */
export interface Photo {
  /** Seconds. */
  time: number;
  verdict: JudgedTrigger['verdict'];
  /** wren, nothing, ignored. */
  word: string;
}

/** The photos that were taken while the clip ran, in order of time. */
export function photosOf({ triggers, visits }: Replayed, seconds: number): Photo[] {
  const photos = triggers.flatMap(({ photos: times, verdict, visit }) => {
    const name = visit === null ? undefined : visits[visit]?.name;
    const word = name ?? verdictWords[verdict ?? 'none'];
    return times.filter((time) => time <= seconds).map((time) => ({ time, verdict, word }));
  });
  return photos.sort((a, b) => a.time - b.time);
}

/** Places of the photos to draw: those in sight and some on either side. */
export function inSight(
  count: number,
  each: number,
  scrolled: number,
  width: number,
  spare = 2,
): { from: number; to: number } {
  const from = Math.max(0, Math.floor(scrolled / each) - spare);
  return { from, to: Math.min(count, Math.ceil((scrolled + width) / each) + spare) };
}
