import { type Difference, recallDifference } from '../score/paired-difference.js';
import type { Stretch } from '../score/stretches.js';

/** A visit of a clip. */
export interface VisitOf extends Stretch {
  clip: string;
  name: string | null;
}

/** Whether a visit is caught by what is held against something else, and by that. */
export interface VisitPair {
  visit: VisitOf;
  before: boolean;
  after: boolean;
}

/** The same visits caught before and after: those that only one of the two catches, and what the second adds to recall; 90 %. */
export function pairVisits<P extends VisitPair>(
  pairs: readonly P[],
): { gained: P[]; lost: P[]; recall: Difference | null } {
  const gained = pairs.filter(({ before, after }) => after && !before);
  const lost = pairs.filter(({ before, after }) => before && !after);
  const recall = recallDifference({
    both: pairs.filter(({ before, after }) => before && after).length,
    first: gained.length,
    second: lost.length,
    neither: pairs.filter(({ before, after }) => !before && !after).length,
  });
  return { gained, lost, recall };
}
