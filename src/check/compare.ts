import { TIME_TOLERANCE } from '../engine/triggers.js';
import type { ClipResult, TriggerResult, VisitResult } from './results.js';

/** A visit by its place in the list of the clip's visits. */
export interface VisitNamed {
  visit: number;
  name: string | null;
  /** Seconds. */
  start: number;
  end: number;
}

/** What differs from before on one clip, exactly. Times in seconds from its start. */
export interface Differences {
  /** Visits caught before and missed now, and the reverse. */
  lost: VisitNamed[];
  gained: VisitNamed[];
  /** False triggers that were not there before, and that are no longer there. */
  newFalse: { time: number }[];
  goneFalse: { time: number }[];
  /** False triggers that came a little earlier or later: neither new nor gone. */
  movedFalse: { time: number; was: number }[];
  /** Triggers in visits and in ignored time, where which of them fired matters less than that one did. */
  newOther: TriggerResult[];
  goneOther: TriggerResult[];
}

export type ClipVerdict = 'same' | 'better' | 'worse' | 'changed' | 'not comparable';

/**
 * How far a false trigger may move and still be the same one, in seconds. The camera fires at the first frame that
 * suffices, so that one notch moves a trigger by a frame or two within the same gust.
 */
export const MOVED = 1;

/** Why results of two clips cannot be held against each other, or null where they can. */
export function whyNotComparable(before: ClipResult, now: ClipResult): string | null {
  const changed = [
    ...(before.pictures === now.pictures ? [] : ['its pictures']),
    ...(before.times === now.times ? [] : ['the times of its frames']),
    ...(before.labels === now.labels ? [] : ['its visits, or the time that does not count,']),
  ];
  if (changed.length > 0) return `${changed.join(' and ')} changed since`;
  const fits = (visit: VisitResult, i: number) =>
    visit.start === now.visits[i]?.start && visit.end === now.visits[i].end;
  return before.visits.length === now.visits.length && before.visits.every(fits)
    ? null
    : 'its accepted visits are not those of its labels: the file was changed by hand';
}

/** What differs between two results of the same clip. */
export function differences(
  before: Pick<ClipResult, 'visits' | 'triggers'>,
  now: Pick<ClipResult, 'visits' | 'triggers'>,
): Differences {
  const turned = (caught: boolean) =>
    now.visits.flatMap((visit, i) =>
      visit.caught === caught && before.visits[i]?.caught === !caught ? [named(visit, i)] : [],
    );
  const timesOf = (triggers: readonly TriggerResult[], verdict: TriggerResult['verdict']) =>
    triggers.filter((t) => t.verdict === verdict).map(({ time }) => time);
  const unmatched = (verdict: TriggerResult['verdict']) =>
    match(timesOf(before.triggers, verdict), timesOf(now.triggers, verdict), TIME_TOLERANCE);
  const nothing = unmatched('false');
  const moved = match(nothing.gone, nothing.added, MOVED + TIME_TOLERANCE);
  const others = (['true', 'ignored'] as const).map((verdict) => ({ verdict, ...unmatched(verdict) }));
  const inOrder = (pick: 'gone' | 'added') =>
    others
      .flatMap(({ verdict, [pick]: times }) => times.map((time) => ({ time, verdict })))
      .sort((a, b) => a.time - b.time);
  return {
    lost: turned(false),
    gained: turned(true),
    newFalse: moved.added.map((time) => ({ time })),
    goneFalse: moved.gone.map((time) => ({ time })),
    movedFalse: moved.pairs.map(([was, time]) => ({ time, was })),
    newOther: inOrder('added'),
    goneOther: inOrder('gone'),
  };
}

/**
 * What differences amount to. Visits count one by one, false triggers by how many there are.
 * - same: nothing differs.
 * - worse: visits are lost and none gained, or there are more false triggers; and neither is the other way round.
 * - better: the reverse.
 * - changed: the one is better and the other worse, visits are both lost and gained, or only other moments fired.
 */
export function verdictOn(d: Differences): Exclude<ClipVerdict, 'not comparable'> {
  const [lost, gained] = [d.lost.length > 0, d.gained.length > 0];
  const more = d.newFalse.length - d.goneFalse.length;
  const worse = lost || more > 0;
  const better = gained || more < 0;
  if (worse !== better) return worse ? 'worse' : 'better';
  return Object.values(d).every((list) => list.length === 0) ? 'same' : 'changed';
}

function named({ name, start, end }: VisitResult, visit: number): VisitNamed {
  return { visit, name: name ?? null, start, end };
}

/** Pairs rising times at most so far apart, in order, as many as can be paired; what is left over on either side. */
function match(before: readonly number[], now: readonly number[], apart: number) {
  const pairs: [before: number, now: number][] = [];
  const gone: number[] = [];
  const added: number[] = [];
  let i = 0;
  let j = 0;
  while (i < before.length || j < now.length) {
    const was = before[i] ?? Number.POSITIVE_INFINITY;
    const is = now[j] ?? Number.POSITIVE_INFINITY;
    if (Math.abs(was - is) <= apart) {
      pairs.push([was, is]);
      i++;
      j++;
    } else if (was < is) {
      gone.push(was);
      i++;
    } else {
      added.push(is);
      j++;
    }
  }
  return { pairs, gone, added };
}
