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

/**
 * Of some stretches, how many were looked through, and in how many of these an animal was.
 * @param reviewed what a person looked through; null: all of the clip
 */
export function lookedAt(
  stretches: readonly Stretch[],
  reviewed: readonly Stretch[] | null,
  visits: readonly Stretch[],
): { all: number; seen: number; found: number } {
  const [seenTime, animals] = [reviewed && union(reviewed), union(visits)];
  const seen = stretches.filter((stretch) => seenTime === null || isCovered(seenTime, stretch));
  return {
    all: stretches.length,
    seen: seen.length,
    found: seen.filter((stretch) => touchesAny(animals, stretch)).length,
  };
}
