import type { CauseName } from '../diagnosis.js';
import { entryNames } from '../triggers/measures/measures.js';

/**
 * The plain rules that the model must beat: what a careful person would write down, one measure or two for each cause,
 * asked in turn. Only judged with, never used.
 */
export function ruled(vector: readonly number[]): CauseName {
  const m = Object.fromEntries(entryNames.map((name, i) => [name, vector[i] as number]));
  const is = (name: string, low: number, high = Number.POSITIVE_INFINITY) =>
    (m[name] as number) >= low && (m[name] as number) <= high;
  if (is('shaken', 0.5) && is('spread', 0.3)) return 'shake';
  if (is('together', 0.4) && is('oneWayAll', 0.8)) return 'light';
  if (is('noise', 0.25) && is('smoothness', -1, 0.25)) return 'noise';
  if (is('kept', 0.85) && is('oneWay', 0.9)) return 'shadow';
  if (is('active', 0.12)) return is('uprightStreaks', 0.5) && is('spread', 0.3) ? 'rain' : 'wind';
  if (is('lasted', -4, 0) && is('remains', 0, 0.3)) return is('region', -9, -3) ? 'rain' : 'insect';
  if (is('again', 0.5)) return 'wind';
  return 'unknown';
}
