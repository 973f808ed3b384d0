import type { Labels, Stretch, Visit } from '../../../score/labels.js';
import { union } from '../../../score/stretches.js';

/** The kinds of stretches that an owner marks. */
export type Kind = 'visits' | 'ignored' | 'reviewed';
export const KINDS: readonly Kind[] = ['visits', 'ignored', 'reviewed'];

/** One stretch of the labels, by its place in the list of its kind. */
export interface Chosen {
  kind: Kind;
  at: number;
}

/** Labels while they are being made. */
export interface Sheet {
  labels: Labels;
  /** What has begun and not ended yet, by its place. */
  begun: Partial<Record<Kind, number>>;
}

export const emptyLabels: Labels = { version: 1, visits: [] };

export function listOf(labels: Labels, kind: Kind): readonly Stretch[] {
  return labels[kind] ?? [];
}

/** Nothing has an end before its start: what would is turned round. */
function between(a: number, b: number): Stretch {
  return { start: Math.min(a, b), end: Math.max(a, b) };
}

/** A stretch that begins at a time, before those that start later; it ends there too until it is ended. */
export function begin({ labels, begun }: Sheet, kind: Kind, time: number): { sheet: Sheet; at: number } {
  const list = listOf(labels, kind);
  const later = list.findIndex(({ start }) => start > time);
  const at = later < 0 ? list.length : later;
  const made = { start: time, end: time };
  const next =
    kind === 'visits'
      ? { ...labels, visits: labels.visits.toSpliced(at, 0, { ...made, type: 'animal' }) }
      : { ...labels, [kind]: list.toSpliced(at, 0, made) };
  return { sheet: { labels: next, begun: { ...begun, [kind]: at } }, at };
}

/** Ends what has begun of a kind; where nothing has, the sheet stays as it is. */
export function end(sheet: Sheet, kind: Kind, time: number): Sheet {
  const { [kind]: at, ...begun } = sheet.begun;
  const stretch = at === undefined ? undefined : listOf(sheet.labels, kind)[at];
  if (at === undefined || !stretch) return { labels: sheet.labels, begun };
  return { labels: replaced(sheet.labels, { kind, at }, between(stretch.start, time)), begun };
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

export function remove({ labels, begun }: Sheet, { kind, at }: Chosen): Sheet {
  const next = { ...labels, [kind]: listOf(labels, kind).toSpliced(at, 1) };
  const { [kind]: open, ...others } = begun;
  if (open === undefined || open === at) return { labels: next, begun: others };
  return { labels: next, begun: { ...begun, [kind]: open > at ? open - 1 : open } };
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
export function anew(labels: Labels): Labels {
  const { ignored: _, reviewed: __, ...rest } = labels;
  return { ...rest, visits: [] };
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
