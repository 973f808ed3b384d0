import type { PartTold } from './parts.js';
import { TAIL } from './verdict.js';

/** Which stretch to record next, and why. */
export interface RecordNext {
  from: number;
  until: number;
  conditions: readonly string[] | null;
  why: 'came oftener than promised' | 'nothing was promised' | 'most of nothing' | 'least told';
}

/**
 * The part of the hours out whose recording would mend most: where photos of nothing came oftener than promised, with the
 * chance shared among all parts so that one of many is not picked for being the last; else where nothing was promised and
 * photos of nothing came; else, of those that were promised something, the one of which the promise says least. Where no part
 * is promised anything, or all the same: where most photos of nothing came in an hour.
 */
export function recordNext(parts: readonly PartTold[]): RecordNext | null {
  const promised = parts.filter((part): part is Promised => part.more !== null && part.promised !== null);
  const broken = least(promised, ({ more }) => more);
  if (broken && broken.more <= TAIL / promised.length) return told(broken, 'came oftener than promised');
  const spreads = new Set(promised.map(({ promised: range }) => spread(range)));
  const alike = spreads.size < 2;
  const untold = parts.filter(({ more, nothing }) => nothing > 0 && (alike || more === null));
  const most = least(untold, ({ nothing, hours }) => -nothing / Math.max(hours, LEAST_HOURS));
  if (most) return told(most, alike ? 'most of nothing' : 'nothing was promised');
  const vague = least(promised, ({ promised: range }) => -spread(range));
  return vague ? told(vague, 'least told') : null;
}

type Promised = PartTold & { more: number; promised: NonNullable<PartTold['promised']> };

/** Hours: of a part that is shorter no rate is believed. */
const LEAST_HOURS = 0.5;

/** How wide a promise is, on a scale on which counts scatter alike. */
function spread({ low, high }: { low: number; high: number }): number {
  return Math.sqrt(high) - Math.sqrt(low);
}

function told({ from, until, conditions }: PartTold, why: RecordNext['why']): RecordNext {
  return { from, until, conditions, why };
}

function least<T>(items: readonly T[], by: (item: T) => number): T | null {
  return items.reduce<T | null>((best, item) => (best === null || by(item) < by(best) ? item : best), null);
}
