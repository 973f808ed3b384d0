import { scatterOfBouts } from './by-bouts.js';
import { gammaQuantile } from './gamma.js';
import { wilson, Z90 } from './intervals.js';

/** A difference with its 90 % interval. */
export interface Difference {
  value: number;
  low: number;
  high: number;
}

/** What two groups of settings did with the same visits. */
export interface PairedVisits {
  both: number;
  /** Only the first caught it. */
  first: number;
  /** Only the second. */
  second: number;
  neither: number;
}

/**
 * The first's share of visits caught less the second's, with its 90 % interval; null without visits. Method 10 of Newcombe
 * 1998, Statistics in Medicine 17:2635-2650 (from memory): Wilson's limits of either share, squared and added with the
 * correlation of the two, which is made smaller for the continuity where it is positive.
 */
export function recallDifference({ both, first, second, neither }: PairedVisits, z = Z90): Difference | null {
  const n = both + first + second + neither;
  const [a, b] = [wilson(both + first, n, z), wilson(both + second, n, z)];
  if (!a || !b) return null;
  const under = (both + first) * (second + neither) * (both + second) * (first + neither);
  const over = both * neither - first * second;
  const phi = under === 0 ? 0 : (over > 0 ? Math.max(0, over - n / 2) : over) / Math.sqrt(under);
  return {
    value: (first - second) / n,
    low: a.value - b.value - added(a.value - a.low, b.high - b.value, phi),
    high: a.value - b.value + added(a.high - a.value, b.value - b.low, phi),
  };
}

/**
 * The first's false triggers an hour less the second's over the same time, with its 90 % interval; null where nothing was
 * watched. What both have cancels; bouts that speak for the one and those that speak for the other come independently, so that
 * their intervals are squared and added (Zou & Donner 2008, Statistics in Medicine 27:1693-1702, from memory).
 * @param balances first less second, bout by bout (`boutBalances`)
 */
export function rateDifference(balances: readonly number[], hours: number): Difference | null {
  if (!(hours > 0)) return null;
  const [more, fewer] = [side(balances), side(balances.map((n) => -n))];
  const value = more.value - fewer.value;
  return {
    value: value / hours,
    low: (value - added(more.value - more.low, fewer.high - fewer.value, 0)) / hours,
    high: (value + added(more.high - more.value, fewer.value - fewer.low, 0)) / hours,
  };
}

/** The triggers in bouts that balance to one side, and the interval of their long-run number. */
function side(balances: readonly number[]) {
  const sizes = balances.filter((n) => n > 0);
  const value = sizes.reduce((sum, n) => sum + n, 0);
  const scatter = scatterOfBouts(value, { squares: sizes.reduce((sum, n) => sum + n * n, 0) });
  return {
    value,
    low: scatter * gammaQuantile(value / scatter, 0.05),
    high: scatter * gammaQuantile(value / scatter + 1, 0.95),
  };
}

function added(a: number, b: number, phi: number): number {
  return Math.sqrt(Math.max(0, a * a - 2 * phi * a * b + b * b));
}
