import { Z90 } from '../score/intervals.js';
import type { SweepCounts } from '../sweep/counts.js';

/** One kind of weather with what was swept of it: clips, or the same clip at several strengths. */
export interface WeatherSweep {
  parts: readonly SweepCounts[];
  /** The setting that would be used in this weather, if settings were changed. */
  setting: number;
}

/** Recall that changing the settings with the weather would add over leaving one group in place; a 90 % interval. */
export interface Gain {
  value: number;
  low: number;
  high: number;
}

/**
 * What changing by weather would add to recall over one setting for everything, every kind of weather weighing the same.
 * Pairs the same visit under both settings, so that what both catch or miss costs nothing; a visit simulated at several
 * strengths is one visit. Null with fewer than two kinds of weather, or where one has no visits.
 */
export function gainOfChanging(weathers: readonly WeatherSweep[], one: number): Gain | null {
  if (weathers.length < 2) return null;
  let value = 0;
  let variance = 0;
  for (const { parts, setting } of weathers) {
    const differences = perVisit(parts, setting, one);
    const n = differences.length;
    if (n === 0) return null;
    const mean = differences.reduce((a, b) => a + b) / n;
    // One visit's worth is added to the squares: few visits that agree do not make certain.
    const square = (differences.reduce((sum, d) => sum + (d - mean) ** 2, 0) + 1) / n;
    value += mean / weathers.length;
    variance += square / n / weathers.length ** 2;
  }
  const half = Z90 * Math.sqrt(variance);
  return { value, low: Math.max(-1, value - half), high: Math.min(1, value + half) };
}

/** For each visit how much more often `a` caught it than `b`, -1 to 1; parts that share their visits share an entry. */
function perVisit(parts: readonly SweepCounts[], a: number, b: number): number[] {
  const groups = new Map<SweepCounts['truth']['visits'], SweepCounts[]>();
  for (const part of parts) groups.set(part.truth.visits, [...(groups.get(part.truth.visits) ?? []), part]);
  return [...groups].flatMap(([visits, same]) =>
    visits.map((_, visit) => {
      const sum = same.reduce(
        (n, part) => n + Number(part.caughtVisit(a, visit)) - Number(part.caughtVisit(b, visit)),
        0,
      );
      return sum / same.length;
    }),
  );
}
