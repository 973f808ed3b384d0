import { Z90 } from '../score/intervals.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Condition } from '../weather/conditions.js';

/**
 * Recall that changing the settings with the weather would add over leaving one group in place, or by worth what comes to
 * as many visits; a 90 % interval.
 */
export interface Gain {
  value: number;
  low: number;
  high: number;
}

/** Footage that is left out as one: a clip, or a block of time of it. */
export interface WeatherUnit {
  /** Every kind of weather that it is footage of. */
  conditions: readonly Condition[];
  /** The clip that it is from. */
  clip: string;
  counts: SweepCounts;
}

/** Chooses one setting from some footage. */
export type ChooseFrom = (parts: readonly SweepCounts[]) => number;

/** What a setting gives on some footage, in visits. */
export type Gives = (counts: SweepCounts, setting: number) => number;

/** Fewer units of a kind say nothing of how units differ. */
const FEWEST_UNITS = 2;

/**
 * What changing by weather would add to recall over one setting for everything, on footage that neither was chosen on:
 * each unit in turn is left out, with whatever shows the same visits, both choices are made from the rest, and both are
 * tried on it. Every kind of weather weighs the same; a unit of several kinds is one witness, however often it counts. Null
 * where it cannot be told: fewer than two kinds, or a kind without visits or with fewer than two units apart.
 */
export function gainOfChanging(
  units: readonly WeatherUnit[],
  choose: ChooseFrom,
  gives: Gives = (counts, setting) => counts.own[setting]!,
): Gain | null {
  const kinds = [...new Set(units.flatMap(({ conditions }) => conditions))];
  if (kinds.length < 2) return null;
  const countsOf = (of: readonly WeatherUnit[]) => of.map(({ counts }) => counts);
  const visitsOf = new Map(kinds.map((kind) => [kind, 0]));
  const gained: { unit: WeatherUnit; kind: Condition; visits: number; more: number }[] = [];
  for (const unit of units) {
    const rest = units.filter((other) => !share(unit, other));
    const visits = unit.counts.truth.visits.length;
    let one: number | null = null;
    for (const kind of unit.conditions) {
      const alike = rest.filter(({ conditions }) => conditions.includes(kind));
      if (alike.length + 1 < FEWEST_UNITS) return null;
      one ??= choose(countsOf(rest));
      const own = choose(countsOf(alike));
      const more = gives(unit.counts, own) - gives(unit.counts, one);
      gained.push({ unit, kind, visits, more });
      visitsOf.set(kind, (visitsOf.get(kind) ?? 0) + visits);
    }
  }
  if ([...visitsOf.values()].some((visits) => visits === 0)) return null;
  const meanOf = (kind: Condition) =>
    gained.reduce((sum, g) => sum + (g.kind === kind ? g.more : 0), 0) / visitsOf.get(kind)!;
  const value = kinds.reduce((sum, kind) => sum + meanOf(kind), 0) / kinds.length;
  // How far each unit pulls the mean; units of the same visits pull together.
  const apart = witnesses(units);
  let variance = 0;
  for (const together of apart) {
    let pull = 0;
    for (const { unit, kind, visits, more } of gained) {
      if (!together.includes(unit)) continue;
      pull += (more - visits * meanOf(kind)) / visitsOf.get(kind)! / kinds.length;
    }
    variance += pull ** 2;
  }
  variance *= apart.length / Math.max(1, apart.length - 1);
  // One visit's worth is added for each kind: few that agree do not make certain.
  for (const kind of kinds) {
    const ofKind = (unit: WeatherUnit) =>
      unit.conditions.includes(kind) ? unit.counts.truth.visits.length : 0;
    const each = apart.reduce((sum, together) => sum + Math.max(...together.map(ofKind)), 0);
    variance += (1 / each / kinds.length) ** 2;
  }
  const half = Z90 * Math.sqrt(variance);
  return { value, low: value - half, high: value + half };
}

/** Whether two units show the same visits, or are the same. */
function share(a: WeatherUnit, b: WeatherUnit): boolean {
  if (a === b) return true;
  if (a.clip !== b.clip) return false;
  const starts = new Set(a.counts.truth.visits.map(({ start }) => start));
  return b.counts.truth.visits.some(({ start }) => starts.has(start));
}

/** Units that share visits, however indirectly, gathered. */
function witnesses(units: readonly WeatherUnit[]): WeatherUnit[][] {
  const groups: WeatherUnit[][] = [];
  for (const unit of units) {
    const sharing = groups.filter((group) => group.some((other) => share(unit, other)));
    for (const group of sharing) groups.splice(groups.indexOf(group), 1);
    groups.push([...sharing.flat(), unit]);
  }
  return groups;
}
