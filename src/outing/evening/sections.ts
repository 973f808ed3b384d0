import { HOUR } from './photo.js';

/** Photos of one hour, which are shown together. */
export interface HourOfPhotos {
  /** Hours since 1970 by the camera's clock; null for photos without a time. */
  hour: number | null;
  /** The place of its first photo. */
  from: number;
  count: number;
}

/** Photos by the hour that they were taken in. @param times in order; null where unknown */
export function hoursOfPhotos(times: readonly (number | null)[]): HourOfPhotos[] {
  const hours: HourOfPhotos[] = [];
  for (const [i, time] of times.entries()) {
    const hour = time === null ? null : Math.floor(time / HOUR);
    const last = hours.at(-1);
    if (last && last.hour === hour) last.count++;
    else hours.push({ hour, from: i, count: 1 });
  }
  return hours;
}
