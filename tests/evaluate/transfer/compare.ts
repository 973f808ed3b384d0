import type { SweepCounts } from '../../../src/sweep/counts.js';
import { poolOf } from '../../../src/tune/pool.js';
import { recommend } from '../../../src/tune/recommend.js';
import { grid, quickest } from './watching.js';

/** Fewer in both together say nothing. */
const FEWEST = 4;
/** Settings that fire at more than this share of what they could at most are saturated. */
const SATURATED = 0.5;
const allowance = { kind: 'allowance', falsePerHour: 60 } as const;

/** False triggers on one side over those on the other, for each setting that can tell. */
export interface Ratios {
  ratios: number[];
  /** Drawn over simulated where enough fired as simulated and was not saturated there: between what lies what is told of it. */
  given: number[];
  /** Settings left out for firing nearly all the time, and those that hardly fire on either side. */
  saturated: number;
  quiet: number;
}

/** @param most counts where everything always changes */
export function compare(simulated: SweepCounts, drawn: SweepCounts, most: SweepCounts): Ratios {
  const found: Ratios = { ratios: [], given: [], saturated: 0, quiet: 0 };
  for (const setting of quickest) {
    const [a, b] = [simulated.falseTriggers[setting]!, drawn.falseTriggers[setting]!];
    if (Math.max(a, b) > SATURATED * most.falseTriggers[setting]!) found.saturated++;
    else if (a + b < FEWEST) found.quiet++;
    else found.ratios.push((a + 0.5) / (b + 0.5));
    if (a >= FEWEST && a <= SATURATED * most.falseTriggers[setting]!) found.given.push((b + 0.5) / (a + 0.5));
  }
  return found;
}

/** Recall on the drawing that is lost by tuning on the simulation instead of on the drawing itself. */
export function recallLost(simulated: SweepCounts, drawn: SweepCounts): number {
  const best = recommend(poolOf([drawn]), grid, allowance).setting;
  const chosen = recommend(poolOf([simulated]), grid, allowance).setting;
  return (drawn.caught[best]! - drawn.caught[chosen]!) / drawn.truth.visits.length;
}
