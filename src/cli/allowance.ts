import { Problem } from '../base/problem.js';
import type { AllowanceWanted } from '../jobs/tune/wanted.js';

/** What the command line says of false triggers and photos of nothing. */
export interface AllowanceOptions {
  falsePerHour?: number;
  photosPerDay?: number;
  hoursOut?: number;
}

/**
 * Refuses two ways of saying what is wanted.
 * @param ways the value of each option by its name, undefined where it was not given
 * @throws Problem naming those that were given
 */
export function atMostOne(ways: Readonly<Record<string, number | undefined>>): void {
  const given = Object.keys(ways).filter((name) => ways[name] !== undefined);
  if (given.length < 2) return;
  throw new Problem(
    'usage',
    `${given.join(' and ')}: expected one of them, because each says by itself what is wanted; leave the others out`,
  );
}

/**
 * How many false triggers or photos of nothing are allowed; undefined: nothing was said of that.
 * @throws Problem where photos a day are given without the hours of a day
 */
export function allowanceFrom(options: AllowanceOptions): AllowanceWanted | undefined {
  const { falsePerHour, photosPerDay, hoursOut } = options;
  if (photosPerDay === undefined) return falsePerHour === undefined ? undefined : { falsePerHour };
  if (hoursOut !== undefined) return { photosPerDay, hoursOut };
  throw new Problem(
    'usage',
    '--photos-per-day: expected with the hours a day that the camera is out; add --hours-out',
  );
}
