import type { CauseName } from '../diagnose/diagnosis.js';
import { entryNames } from '../diagnose/triggers/measures/measures.js';

/**
 * The plain rules that the model must beat: what a careful person would write down, one measure or two for each cause,
 * asked in turn. Only judged with, never used.
 */
export function ruled(vector: readonly number[]): CauseName {
  const is = (name: string, low: number, high = Number.POSITIVE_INFINITY) => {
    const place = entryNames.indexOf(name);
    if (place < 0) throw new Error(`there is no measure '${name}' to have a rule about`);
    const value = vector[place]!;
    return value >= low && value <= high;
  };
  // Over a twentieth of the frame.
  const wide = is('changed', -1.3);
  if (is('shaken', 0.5) && wide) return 'shake';
  if (is('together', 0.4) && is('oneWayAll', 0.8)) return 'light';
  if (is('noise', 0.25) && is('streaks', 0, 0.4)) return 'noise';
  if (is('sharp', 0, 0.13) && is('oneWay', 0.9) && is('kept', 0.7)) return 'shadow';
  if (is('oneWay', 0.9) && is('lasted', -4, -1) && is('remains', 0, 0.1) && is('busy', -4, -2.5))
    return 'insect';
  if (is('busy', -2.5) && is('lasted', -4, 0) && is('remains', 0, 0.25)) return 'rain';
  if (is('flashes', 0.27) && is('pieces', 1.9)) return 'rain';
  if (is('ordinary', 0.6) && is('lasted', 1)) return 'wind';
  return 'unknown';
}
