import type { Balance } from '../../../../words/score-wording.js';
import type { Replayed } from '../../worker/replay.js';

/** A visit that one group of settings catches and the other does not. Times in seconds. */
export interface VisitNamed {
  start: number;
  name: string;
}

/** Two groups of settings on one clip, visit by visit. */
export interface Against {
  gained: VisitNamed[];
  lost: VisitNamed[];
  balance: Balance;
}

/**
 * What the dials catch and take against what is kept; null without labels, and while one of the two still tells of other
 * labels.
 */
export function heldAgainst(dials: Replayed, kept: Replayed): Against | null {
  if (!dials.counts || !kept.counts || dials.visits.length !== kept.visits.length) return null;
  const pairs = dials.visits.map((visit, i) => ({ visit, other: kept.visits[i]! }));
  if (pairs.some(({ visit, other }) => visit.start !== other.start)) return null;
  const only = (mine: boolean) =>
    pairs.flatMap(({ visit, other }) =>
      visit.caught === mine && other.caught !== mine
        ? [{ start: visit.start, name: visit.name ?? 'visit' }]
        : [],
    );
  const [gained, lost] = [only(true), only(false)];
  const nothing = dials.counts.falseTriggers - kept.counts.falseTriggers;
  return { gained, lost, balance: { gained: gained.length, lost: lost.length, nothing } };
}
