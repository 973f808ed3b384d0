import type { Labels, Stretch } from '../../../score/labels.js';
import { type Entry, keyed, same, sameEntries, without } from './entries.js';

/** Lists that are merged entry by entry. */
const LISTS = ['reviewed', 'visits', 'ignored', 'causes'] as const;
/** What is one thing and not a list of things: one side's or the other's. */
const WHOLES = ['mask', 'foliage'] as const;
type List = (typeof LISTS)[number];
type Whole = (typeof WHOLES)[number];

/** What two edits made of the same thing, each in its way. */
export type Conflict =
  | {
      field: List;
      /** What they both changed. */
      was: Entry[];
      mine: Entry[];
      theirs: Entry[];
    }
  | { field: Whole | 'reviewed'; was: unknown; mine: unknown; theirs: unknown; whole: true };

export interface Merged {
  /** With both edits; where they touch the same thing, with mine. */
  labels: Labels;
  conflicts: Conflict[];
}

/**
 * Two edits of the same labels put together. An entry is known by its time, kind and name: changing one of these takes away
 * one entry and adds another, and what overlaps an entry that went is taken for what became of it.
 * @param base what both started from; `mine` and `theirs` are what became of it
 */
export function merge(base: Labels, mine: Labels, theirs: Labels): Merged {
  const labels: Labels = { version: 1, visits: [] };
  const conflicts: Conflict[] = [];
  for (const field of LISTS) {
    const one = mergeList(field, base[field], mine[field], theirs[field]);
    if (one.list) Object.assign(labels, { [field]: one.list });
    conflicts.push(...one.conflicts);
  }
  for (const field of WHOLES) {
    const [was, my, their] = [base[field], mine[field], theirs[field]];
    const both = !same(was, my) && !same(was, their) && !same(my, their);
    if (both) conflicts.push({ field, was, mine: my, theirs: their, whole: true });
    const value = same(was, my) ? their : my;
    if (value) Object.assign(labels, { [field]: value });
  }
  return { labels, conflicts };
}

/** What two edits started from, and what became of it. */
export interface Sides {
  base: Labels;
  mine: Labels;
  theirs: Labels;
}

/** One conflict put away by the owner: what is kept of it stands on all sides then, and merging finds no conflict there. */
export function settle({ base, mine, theirs }: Sides, conflict: Conflict, keep: 'mine' | 'theirs'): Sides {
  if ('whole' in conflict) {
    const on = (labels: Labels) => withField(labels, conflict.field, conflict[keep]);
    return { base: on(base), mine: on(mine), theirs: on(theirs) };
  }
  const { field } = conflict;
  const on = (labels: Labels, out: readonly Entry[]) =>
    out === conflict[keep] ? labels : withField(labels, field, exchanged(labels[field], out, conflict[keep]));
  return { base: on(base, conflict.was), mine: on(mine, conflict.mine), theirs: on(theirs, conflict.theirs) };
}

export function sameLabels(a: Labels, b: Labels): boolean {
  return [...LISTS, ...WHOLES].every((field) => same(a[field], b[field]));
}

function withField(labels: Labels, field: List | Whole, value: unknown): Labels {
  const { [field]: _, ...rest } = labels;
  return (value === undefined ? rest : { ...rest, [field]: value }) as Labels;
}

function exchanged(
  list: readonly Entry[] | undefined,
  out: readonly Entry[],
  into: readonly Entry[],
): Entry[] {
  return into.reduce(inserted, without(list ?? [], out));
}

function inserted(list: Entry[], entry: Entry): Entry[] {
  const later = list.findIndex(({ start }) => start > entry.start);
  return list.toSpliced(later < 0 ? list.length : later, 0, entry);
}

interface ListMerged {
  list: Entry[] | undefined;
  conflicts: Conflict[];
}

function mergeList(
  field: List,
  base: readonly Entry[] | undefined,
  mine: readonly Entry[] | undefined,
  theirs: readonly Entry[] | undefined,
): ListMerged {
  // Only of what was looked through does a missing list say something else than an empty one: all of it.
  if (field === 'reviewed' && (mine === undefined || theirs === undefined)) {
    if (same(base, mine)) return { list: theirs?.slice(), conflicts: [] };
    const both = !same(base, theirs) && !same(mine, theirs);
    const conflict: Conflict = { field, was: base, mine, theirs, whole: true };
    return { list: mine?.slice(), conflicts: both ? [conflict] : [] };
  }
  if (mine === undefined && theirs === undefined) return { list: undefined, conflicts: [] };
  return mergeEntries(field, base ?? [], mine ?? [], theirs ?? []);
}

function mergeEntries(
  field: List,
  base: readonly Entry[],
  mine: readonly Entry[],
  theirs: readonly Entry[],
): ListMerged {
  const [was, my, their] = [keyed(base), keyed(mine), keyed(theirs)];
  const news = (side: Map<string, Entry>) =>
    [...side].filter(([key]) => !was.has(key)).map(([, entry]) => entry);
  const [myNew, theirNew] = [news(my), news(their)];
  const contests: Contest[] = [];
  const contest = (before: Entry[], mineNow: Entry[], theirsNow: Entry[]) => {
    if (!sameEntries(mineNow, theirsNow)) contests.push({ was: before, mine: mineNow, theirs: theirsNow });
  };
  for (const [key, entry] of was) {
    const [a, b] = [my.get(key), their.get(key)];
    if (same(entry, a) || same(entry, b)) continue;
    const became = (now: Entry | undefined, added: readonly Entry[]) =>
      now ? [now] : added.filter((one) => overlap(one, entry));
    contest([entry], became(a, myNew), became(b, theirNew));
  }
  // Added by both, and something else said of it.
  for (const [key, entry] of my) {
    const other = their.get(key);
    if (!was.has(key) && other) contest([], [entry], [other]);
  }
  const conflicts = joined(contests);
  const asked = new Set(conflicts.flatMap((one) => one.theirs));
  const list: Entry[] = [];
  for (const [key, entry] of my) {
    const [old, other] = [was.get(key), their.get(key)];
    if (!old || !same(old, entry)) list.push(entry);
    else if (other) list.push(other);
  }
  const added = [...their].filter(([key, entry]) => !was.has(key) && !my.has(key) && !asked.has(entry));
  return {
    list: added.map(([, entry]) => entry).reduce(inserted, list),
    conflicts: conflicts.map((one) => ({ field, ...one })),
  };
}

function overlap(a: Stretch, b: Stretch): boolean {
  return a.start <= b.end && b.start <= a.end;
}

interface Contest {
  was: Entry[];
  mine: Entry[];
  theirs: Entry[];
}

/** Contests about the same things are one. */
function joined(contests: readonly Contest[]): Contest[] {
  return contests.reduce<Contest[]>((apart, one) => {
    const touches = (other: Contest) =>
      one.mine.some((entry) => other.mine.includes(entry)) ||
      one.theirs.some((entry) => other.theirs.includes(entry));
    const group = [...apart.filter(touches), one];
    const all = (side: keyof Contest) => [...new Set(group.flatMap((part) => part[side]))];
    return [
      ...apart.filter((other) => !touches(other)),
      { was: all('was'), mine: all('mine'), theirs: all('theirs') },
    ];
  }, []);
}
