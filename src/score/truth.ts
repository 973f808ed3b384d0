import type { Box } from './box.js';
import type { Labels } from './labels.js';
import { indexOf } from './stretch-index.js';
import { gaps, gapsBetween, type Stretch, union } from './stretches.js';

/** What the labels say about a clip, in the form that scoring needs. Times in seconds from the clip's start. */
export interface Truth {
  /** Length of the clip. */
  seconds: number;
  /** Animal visits in order of start. */
  visits: (Stretch & { name?: string; box?: Box })[];
  /** Stretches set aside by hand, and visits of another type than animal; apart and in order. */
  setAside: Stretch[];
  /** What a person looked through; null: all of it. */
  reviewed: Stretch[] | null;
  /** Time outside visits of any type and ignored time. */
  watchedSeconds: number;
}

/** Checked labels of a clip of so many seconds (visits already cut at its end) as truth for scoring. */
export function truthOf(labels: Labels, seconds: number): Truth {
  const animals = labels.visits.filter((v) => v.type === 'animal');
  const others = labels.visits.filter((v) => v.type !== 'animal');
  const visits = animals
    .map(({ start, end, name, box }) => ({
      start,
      end,
      ...(name !== undefined && { name }),
      ...(box && { box }),
    }))
    .sort((a, b) => a.start - b.start || a.end - b.end);
  const setAside = union([...(labels.ignored ?? []), ...others]);
  const reviewed = labels.reviewed ? union(labels.reviewed) : null;
  const truth = { seconds, visits, setAside, reviewed };
  return { ...truth, watchedSeconds: watchedWithin(truth, { start: 0, end: seconds }) };
}

/** Seconds within a stretch of the clip that lie outside visits of any type and ignored time. */
export function watchedWithin(truth: Omit<Truth, 'watchedSeconds'>, { start, end }: Stretch): number {
  const watched = gapsBetween(unwatchedIn(truth), start, end);
  return watched.reduce((sum, gap) => sum + Math.max(0, gap.end - gap.start), 0);
}

const unwatched = new WeakMap<object, Stretch[]>();

/** Put together once for each truth: the places of cuts are found by asking for many stretches of one clip. */
function unwatchedIn(truth: Omit<Truth, 'watchedSeconds'>): Stretch[] {
  const { visits, setAside, reviewed, seconds } = truth;
  const known = unwatched.get(truth);
  if (known) return known;
  const all = union([...visits, ...setAside, ...(reviewed ? gaps(reviewed, 0, seconds) : [])]);
  unwatched.set(truth, all);
  return all;
}

/** Whether a time is one that nobody reviewed, belongs to another visitor than an animal, or was set aside by hand. */
export function isIgnored(truth: Truth, time: number): boolean {
  if (indexOf(truth.setAside).any(time)) return true;
  if (!truth.reviewed || time > truth.seconds) return false;
  return !indexOf(truth.reviewed).any(time);
}

/** The visits a photo falls in, by their places in `truth.visits`, rising. */
export function visitsAt(truth: Truth, time: number): number[] {
  return indexOf(truth.visits).at(time);
}
