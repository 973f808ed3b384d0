import { type Random, shuffled } from '../base/random.js';
import { gaps, type Stretch, touchesAny, union } from './stretches.js';

/** Seconds: as much as can be looked through as one row of pictures. */
const LONGEST = 20;
/** Parts of the clip from which stretches are drawn in turn. */
const STRATA = 8;

/** What lies outside some stretches of a clip, cut evenly into pieces of at most 20 s; in order. */
export function quietStretches(busy: readonly Stretch[], seconds: number): Stretch[] {
  return gaps(busy, 0, seconds).flatMap(({ start, end }) => {
    const pieces = Math.ceil((end - start) / LONGEST - 1e-9);
    const length = (end - start) / pieces;
    return Array.from({ length: pieces }, (_, i) => ({
      start: start + i * length,
      end: i === pieces - 1 ? end : start + (i + 1) * length,
    }));
  });
}

/**
 * An order in which to look at so many stretches, so that whoever stops early has a fair sample: the clip is cut into
 * eight parts of as many stretches each, one is drawn at random from each in turn, and which part comes first is drawn too.
 * @returns places in the list
 */
export function orderToLook(stretches: number, random: Random): number[] {
  const strata = Array.from({ length: STRATA }, (_, s) => {
    const [from, to] = [s, s + 1].map((edge) => Math.round((edge * stretches) / STRATA)) as [number, number];
    return shuffled(
      random,
      Array.from({ length: to - from }, (_, i) => from + i),
    );
  });
  const order: number[] = [];
  while (order.length < stretches) {
    for (const stratum of shuffled(random, strata)) {
      const next = stratum.pop();
      if (next !== undefined) order.push(next);
    }
  }
  return order;
}

/** Whether all of a stretch lies within others, apart and in order; to a hundredth of a second. */
export function isCovered(apart: readonly Stretch[], { start, end }: Stretch): boolean {
  return apart.some((one) => one.start <= start + 0.01 && one.end >= end - 0.01);
}

/** What was looked through of the quiet stretches of a clip. All are counts of stretches. */
export interface Looked {
  /** Those that could be looked through: none that was set aside or has somebody else in it. */
  all: number;
  /** Looked through, in whatever order. */
  seen: number;
  /** Of these, with an animal in them. */
  found: number;
  /** Looked through in the order in which they were drawn, up to the first that was not; only these are a sample. */
  drawn: number;
  /** Of these, with an animal in them. */
  foundInDrawn: number;
}

/**
 * What of some stretches was looked through.
 * @param order in which they were drawn, places in the list; those left out do not count
 * @param reviewed what a person looked through; null: all of the clip
 */
export function lookedAt(
  stretches: readonly Stretch[],
  order: readonly number[],
  reviewed: readonly Stretch[] | null,
  visits: readonly Stretch[],
): Looked {
  const [seenTime, animals] = [reviewed && union(reviewed), union(visits)];
  const drawn = order.map((place) => stretches[place]!);
  const isSeen = (stretch: Stretch) => seenTime === null || isCovered(seenTime, stretch);
  const withAnimal = (some: readonly Stretch[]) => some.filter((one) => touchesAny(animals, one)).length;
  const seen = drawn.filter(isSeen);
  const first = drawn.findIndex((stretch) => !isSeen(stretch));
  const sample = first < 0 ? drawn : drawn.slice(0, first);
  return {
    all: drawn.length,
    seen: seen.length,
    found: withAnimal(seen),
    drawn: sample.length,
    foundInDrawn: withAnimal(sample),
  };
}
