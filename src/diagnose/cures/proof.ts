import type { Change } from './effect.js';

/** The same change of settings on all the footage, on the half it was found on and on the other. */
export interface Proof {
  whole: Change;
  finding: Change;
  proving: Change;
}

/** With fewer false triggers than these on the half to prove on, nothing can be told. */
export const FEWEST_FALSE = 5;
/** One false trigger gone there may be luck. */
const FEWEST_REMOVED = 2;
/** What removes less than this share of the false triggers is no cure. */
const LEAST_REMOVED = 0.1;
/** The share of false triggers removed must be so many times the share of visits lost. */
const PRICE = 2;
/** On the other half at least this part of the share that was removed on the first must go. */
const HELD = 0.5;

/**
 * Whether a cure may be offered. On the half it was found on it removes at least a tenth of the false triggers, and at
 * least twice as large a share of them as it loses of the visits. On the other half, where there must be five false
 * triggers or more, it removes at least two and at least half as large a share, and loses neither more visits nor a larger share.
 */
export function isProved({ whole, finding, proving }: Proof): boolean {
  if (proving.falseTriggers < FEWEST_FALSE) return false;
  if (!isWorthIt(finding) || !isWorthIt(whole)) return false;
  const lostNoMore = proving.visitsLost <= finding.visitsLost || lostShare(proving) <= lostShare(finding);
  return (
    proving.falseRemoved >= FEWEST_REMOVED &&
    removedShare(proving) >= HELD * removedShare(finding) &&
    lostNoMore
  );
}

/** Cures in the order in which they are offered: those that lose no visit first, then by false triggers removed per visit lost. */
export function byWorth(a: Change, b: Change): number {
  if ((a.visitsLost === 0) !== (b.visitsLost === 0)) return a.visitsLost - b.visitsLost;
  return worth(b) - worth(a) || b.visitsGained - a.visitsGained;
}

function isWorthIt(change: Change): boolean {
  const removed = removedShare(change);
  return removed >= LEAST_REMOVED && removed >= PRICE * lostShare(change);
}

function worth({ falseRemoved, visitsLost }: Change): number {
  return falseRemoved / Math.max(1, visitsLost);
}

function removedShare({ falseRemoved, falseTriggers }: Change): number {
  return falseTriggers === 0 ? 0 : falseRemoved / falseTriggers;
}

function lostShare({ visitsLost, caught }: Change): number {
  return caught === 0 ? 0 : visitsLost / caught;
}
