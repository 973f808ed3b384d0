/** What a person saw in a photo. */
export const seenWords = ['animal', 'nothing', 'person'] as const;
export type Seen = (typeof seenWords)[number];

/** A photo of an evening as far as it counts. */
export interface EveningPhoto {
  /** Seconds by the camera's own clock, of no known zone, counted as if it were UTC; null where nothing tells. */
  time: number | null;
  /** Null: nobody has said. */
  seen: Seen | null;
}

/** One of which the time is known. */
export type TimedPhoto = EveningPhoto & { time: number };

/** Those of which the time is known, in its order. */
export function timedIn<P extends EveningPhoto>(photos: readonly P[]): (P & { time: number })[] {
  const timed = photos.flatMap((photo) => (photo.time === null ? [] : [{ ...photo, time: photo.time }]));
  return timed.sort((a, b) => a.time - b.time);
}

export const HOUR = 3600;

/** The hour of the day, 0 to 23, that a time lies in. */
export function hourOfDay(time: number): number {
  return Math.floor(time / HOUR) % 24;
}
