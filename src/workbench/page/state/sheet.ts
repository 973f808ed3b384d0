import type { Labels, Stretch, Visit } from '../../../score/labels.js';
import { union } from '../../../score/stretches.js';
import { type Entry, keyed } from './entries.js';

/** The kinds of stretches that an owner marks. */
export type Kind = 'visits' | 'ignored' | 'reviewed';
export const KINDS: readonly Kind[] = ['visits', 'ignored', 'reviewed'];

/** One stretch of the labels, by its place in the list of its kind. */
export interface Chosen {
  kind: Kind;
  at: number;
}

/** Of a clip without labels.json: nothing has been looked through yet, and so it is written with the first mark. */
export const freshLabels: Labels = { version: 1, reviewed: [], visits: [] };

/**
 * What was begun and has no end yet stands among the ignored stretches, without length: there it counts neither for nor
 * against, and whoever opens the file again, here or elsewhere, finds it and can end it.
 */
const BEGUN: Record<Kind, string> = {
  visits: 'a visit begins here; its end is not marked yet',
  ignored: 'what is ignored begins here; its end is not marked yet',
  reviewed: 'what was looked through begins here; its end is not marked yet',
};

/** Of which kind a stretch is only the beginning; null where it is a stretch. */
export function beginningOf({ start, end, why }: Stretch & { why?: string | undefined }): Kind | null {
  if (start !== end) return null;
  return KINDS.find((kind) => BEGUN[kind] === why) ?? null;
}

/** When what has begun and not ended yet did, seconds. */
export function begunIn({ ignored = [] }: Labels): Partial<Record<Kind, number>> {
  const all: Partial<Record<Kind, number>> = {};
  for (const one of ignored) {
    const kind = beginningOf(one);
    if (kind !== null) all[kind] ??= one.start;
  }
  return all;
}

export function listOf(labels: Labels, kind: Kind): readonly Stretch[] {
  return labels[kind] ?? [];
}

/** Nothing has an end before its start: what would is turned round. */
function between(a: number, b: number): Stretch {
  return { start: Math.min(a, b), end: Math.max(a, b) };
}

/** The beginning of a stretch, which is none until it is ended. */
export function begin(labels: Labels, kind: Kind, time: number): Labels {
  return inserted(labels, 'ignored', { start: time, end: time, why: BEGUN[kind] }).labels;
}

/**
 * Ends what has begun of a kind.
 * @returns the labels with it, and its place; null where nothing has begun
 */
export function end(labels: Labels, kind: Kind, time: number): { labels: Labels; at: number } | null {
  const start = begunIn(labels)[kind];
  if (start === undefined) return null;
  const made = between(start, time);
  return inserted(letGo(labels, kind), kind, kind === 'visits' ? { ...made, type: 'animal' } : made);
}

/** Without what has begun of a kind. */
export function letGo(labels: Labels, kind: Kind): Labels {
  const { ignored = [], ...rest } = labels;
  const at = ignored.findIndex((one) => beginningOf(one) === kind);
  const left = at < 0 ? ignored : ignored.toSpliced(at, 1);
  return left.length > 0 ? { ...rest, ignored: left } : rest;
}

/** Before those that start later. */
function inserted(labels: Labels, kind: Kind, made: Entry): { labels: Labels; at: number } {
  const list = listOf(labels, kind);
  const later = list.findIndex(({ start }) => start > made.start);
  const at = later < 0 ? list.length : later;
  return { labels: { ...labels, [kind]: list.toSpliced(at, 0, made) }, at };
}

/** Moves one end, up to the other and no further. */
export function moveEdge(labels: Labels, chosen: Chosen, edge: 'start' | 'end', time: number): Labels {
  const stretch = listOf(labels, chosen.kind)[chosen.at];
  if (!stretch) return labels;
  return replaced(
    labels,
    chosen,
    edge === 'start' ? { start: Math.min(time, stretch.end) } : { end: Math.max(time, stretch.start) },
  );
}

export function remove(labels: Labels, { kind, at }: Chosen): Labels {
  return { ...labels, [kind]: listOf(labels, kind).toSpliced(at, 1) };
}

/**
 * Where a stretch is after a change: entries that were not touched are the same objects; one that was changed stands in
 * its place among those that were not.
 * @returns null where it is no longer there
 */
export function followed(chosen: Chosen, before: Labels, after: Labels): Chosen | null {
  const { kind, at } = chosen;
  const [was, is] = [listOf(before, kind), listOf(after, kind)];
  const entry = was[at];
  if (!entry) return null;
  const there = is.indexOf(entry);
  if (there >= 0) return { kind, at: there };
  const key = [...keyed(was).keys()][at]!;
  const alike = [...keyed(is).keys()].indexOf(key);
  if (alike >= 0) return { kind, at: alike };
  const others = was.length === is.length && was.every((one, i) => i === at || is[i] === one);
  return others ? { kind, at } : null;
}

/** What an owner may say of a visit; undefined takes it away. */
export type Said = {
  [F in 'type' | 'name' | 'count' | 'box']?: Visit[F] | undefined;
};

export function sayOfVisit(labels: Labels, at: number, said: Said): Labels {
  return replaced(labels, { kind: 'visits', at }, said);
}

/** @param why empty: none */
export function sayWhy(labels: Labels, at: number, why: string): Labels {
  return replaced(labels, { kind: 'ignored', at }, { why: why === '' ? undefined : why });
}

/** Without whatever was looked at in time; what is said of the place (mask, foliage) and of causes stays. */
export function anew({ ignored: _, ...rest }: Labels): Labels {
  return { ...rest, reviewed: [], visits: [] };
}

/** All of the clip was looked through: the field is left out. */
export function allReviewed(labels: Labels): Labels {
  const { reviewed: _, ...rest } = labels;
  return rest;
}

function replaced(labels: Labels, { kind, at }: Chosen, fields: object): Labels {
  const list = listOf(labels, kind);
  const old = list[at];
  if (!old) return labels;
  const next = Object.fromEntries(
    Object.entries({ ...old, ...fields }).filter(([, value]) => value !== undefined),
  ) as unknown as Stretch;
  return { ...labels, [kind]: list.with(at, next) };
}

/** Seconds of a clip that were looked through. */
export function lookedThrough({ reviewed }: Labels, seconds: number): number {
  if (!reviewed) return seconds;
  return union(reviewed).reduce(
    (sum, { start, end: until }) => sum + Math.max(0, Math.min(seconds, until) - start),
    0,
  );
}

/** The stretch of a kind that is nearest after (1) or before (-1) a time, by when it starts. */
export function neighbour(labels: Labels, kind: Kind, time: number, way: 1 | -1): number | null {
  let best: number | null = null;
  const list = listOf(labels, kind);
  for (const [at, { start }] of list.entries()) {
    const away = (start - time) * way;
    if (away > 1e-9 && (best === null || away < (list[best]!.start - time) * way)) best = at;
  }
  return best;
}
