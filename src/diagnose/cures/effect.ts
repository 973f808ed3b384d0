import { triggersOf } from '../../engine/triggers.js';
import type { SweepPart } from '../../sweep/sweep.js';
import { tallyOf } from '../../sweep/tally.js';

/** What some settings do on a stretch of footage. */
export interface Effect {
  falseTriggers: number;
  /** For each visit in it, whether a photo shows it. */
  caught: readonly boolean[];
}

/** What changes from one group of settings to another, over any number of stretches. */
export interface Change {
  falseRemoved: number;
  visitsLost: number;
  visitsGained: number;
  /** Before. */
  falseTriggers: number;
  caught: number;
}

const noChange: Readonly<Change> = {
  falseRemoved: 0,
  visitsLost: 0,
  visitsGained: 0,
  falseTriggers: 0,
  caught: 0,
};

/** Replays a stretch by itself from an idle camera. `active` is asked by the clip's analysed frames. */
export function effectOn(
  part: SweepPart,
  active: (frame: number) => boolean,
  persistence: number,
  busy: number,
): Effect {
  const fired = triggersOf(part.times, (k) => active(part.from + k), persistence, busy);
  return effectOf(part, fired);
}

/** @param fired frames of the stretch at which it fired, the first being 0 */
export function effectOf(part: SweepPart, fired: readonly number[]): Effect {
  const tally = tallyOf(part, fired);
  return {
    falseTriggers: tally.falseTriggers,
    caught: part.truth.visits.map((_, visit) => tally.hasCaught(visit)),
  };
}

export function changeBetween(now: Effect, then: Effect): Change {
  const count = (of: (now: boolean, then: boolean) => boolean) =>
    now.caught.filter((caught, v) => of(caught, then.caught[v] === true)).length;
  return {
    falseRemoved: now.falseTriggers - then.falseTriggers,
    visitsLost: count((before, after) => before && !after),
    visitsGained: count((before, after) => !before && after),
    falseTriggers: now.falseTriggers,
    caught: count((before) => before),
  };
}

export function addChanges(all: readonly Change[]): Change {
  const sum = { ...noChange };
  for (const change of all) {
    for (const key of Object.keys(sum) as (keyof Change)[]) sum[key] += change[key];
  }
  return sum;
}
