import { gammaQuantile } from '../../score/gamma.js';
import { Z90 } from '../../score/intervals.js';
import type { Between } from '../between.js';

/** A stretch of time for which something was promised, by the camera's clock; without ends where all time is meant. */
export interface PromisedStretch {
  from: number;
  until: number;
  /** Kinds of weather; null where nobody said. */
  conditions: readonly string[] | null;
  /** Photos of nothing an hour, 90 %; null: nothing was promised for it. */
  nothingPerHour: Between | null;
}

/** The promise for a part of the hours out: so many hours at such a rate. */
export interface PromisedPart {
  hours: number;
  perHour: Between;
}

/** So many equally likely readings of what was promised: more of them change no tail by 0.001. */
const READINGS = 200;
const normalPoints = Array.from({ length: READINGS }, (_, i) => normalQuantile((i + 0.5) / READINGS));

/**
 * Mean counts that a promise allows for, each as likely as any other. On a scale of square roots, on which counts scatter
 * alike, a rate lies about its value as two halves of normal distributions do, so that its low and high are the 5 % and the
 * 95 % point. Parts go up and down together, for they were foretold from the same recording.
 */
export function meansPromised(parts: readonly PromisedPart[]): number[] {
  return normalPoints.map((z) =>
    parts.reduce((sum, { hours, perHour }) => sum + hours * rateAt(perHour, z), 0),
  );
}

/** The promise of all parts together, an hour; null for no hours. */
export function promisedPerHour(parts: readonly PromisedPart[]): Between | null {
  const hours = parts.reduce((sum, part) => sum + part.hours, 0);
  if (!(hours > 0)) return null;
  const mean = (of: (between: Between) => number) =>
    parts.reduce((sum, part) => sum + part.hours * of(part.perHour), 0) / hours;
  return { value: mean(({ value }) => value), low: mean(({ low }) => low), high: mean(({ high }) => high) };
}

function rateAt({ value, low, high }: Between, z: number): number {
  const middle = Math.sqrt(value);
  const spread = (z > 0 ? Math.sqrt(high) - middle : middle - Math.sqrt(low)) / Z90;
  return Math.max(0, middle + z * spread) ** 2;
}

/** The square of a standard normal variable is twice a gamma variable of shape 1/2. */
function normalQuantile(below: number): number {
  return Math.sign(below - 0.5) * Math.sqrt(2 * gammaQuantile(0.5, Math.abs(2 * below - 1)));
}
