import type { Camera } from '../../camera/description.js';
import { photosFor } from '../../camera/timing.js';
import type { Labels, Visit } from '../../score/labels.js';
import { type Stretch, union } from '../../score/stretches.js';

/** Seconds before and after it moved in which an animal is taken to have been in view already, and still. An assumption. */
const STILL = 0.5;
/** Seconds of rest within which an animal that moves again is taken for the same visit. */
const SAME_VISIT = 5;

/** A moment as the visit it would be. */
export function asVisit({ start, end }: Stretch, seconds: number): Stretch {
  return { start: tidy(Math.max(0, start - STILL)), end: tidy(Math.min(seconds, end + STILL)) };
}

/** What is looked at with a moment: from just before it to the last photo that a trigger in it would take. */
export function asReviewed({ start, end }: Stretch, camera: Camera, seconds: number): Stretch {
  const last = Math.max(...photosFor(camera, end));
  return {
    start: tidy(Math.max(0, start - STILL)),
    end: tidy(Math.min(seconds, Math.max(last, end + STILL))),
  };
}

/** How visits that were found are joined with those near them. */
export interface Joining {
  /** Seconds of rest within which two become one; 0: only where they overlap. Left out: a few. */
  rest?: number;
  /** What is not known to show the same, such as moments answered otherwise or not yet: two with one of these between stay two. */
  parted?: readonly Stretch[];
}

/**
 * Labels with what was found in some stretches that were looked through.
 * @param looked what is looked through with this
 * @param visits in view in it; none: nothing was
 */
export function withFound(
  labels: Labels,
  looked: readonly Stretch[],
  visits: readonly Stretch[],
  type: 'animal' | 'human',
  joining: Joining = {},
): Labels {
  const { reviewed } = labels;
  return {
    ...labels,
    // Left out: all of it was, and still is.
    ...(reviewed && { reviewed: union([...reviewed, ...looked]) }),
    visits: joined(labels.visits, visits, type, joining),
  };
}

/** A visit made of several, seconds from the clip's start. */
export interface Join extends Stretch {
  /** So many of those that were found, or there before, lie within it. */
  of: number;
}

/**
 * Which visits hold more than one of those that were found or there before, the longest first: an animal in view for longer
 * is caught more easily, so that whoever answers should know.
 */
export function joinsIn(before: Labels, found: readonly Stretch[], after: Labels): Join[] {
  const parts = [...found, ...before.visits];
  return after.visits
    .filter((visit) => !before.visits.includes(visit))
    .map((visit) => {
      const within = parts.filter(({ start, end }) => start >= visit.start && end <= visit.end);
      // The same one, found again, is no other.
      const of = new Set(within.map(({ start, end }) => `${start} ${end}`)).size;
      return { start: visit.start, end: visit.end, of };
    })
    .filter(({ of }) => of > 1)
    .sort((a, b) => b.end - b.start - (a.end - a.start));
}

/** Labels without the visits that lie within some stretches, which somebody looks at anew; longer ones stay. */
export function withoutVisits(labels: Labels, stretches: readonly Stretch[]): Labels {
  const within = ({ start, end }: Stretch) =>
    stretches.some((one) => start >= one.start - 0.01 && end <= one.end + 0.01);
  return { ...labels, visits: labels.visits.filter((visit) => !within(visit)) };
}

/** Visits of one type near each other become one; one that was there goes on with its name and box. */
function joined(
  before: Labels['visits'],
  found: readonly Stretch[],
  type: 'animal' | 'human',
  { rest = SAME_VISIT, parted = [] }: Joining,
): Labels['visits'] {
  const visits = [...before];
  const isNear = (a: Stretch, b: Stretch) => {
    const [first, second] = a.start <= b.start ? [a, b] : [b, a];
    if (second.start > first.end + rest) return false;
    return !parted.some(({ start, end }) => start < second.start && end > first.end);
  };
  for (const one of found.toSorted((a, b) => a.start - b.start)) {
    let made: Visit = { start: one.start, end: one.end, type };
    for (;;) {
      const at = visits.findIndex(
        (visit) =>
          visit.type === type &&
          isNear(visit, made) &&
          // Two that have names of their own stay two.
          (made.name === undefined || visit.name === undefined || made.name === visit.name),
      );
      if (at < 0) break;
      const [visit] = visits.splice(at, 1);
      made = {
        ...made,
        ...visit!,
        start: Math.min(visit!.start, made.start),
        end: Math.max(visit!.end, made.end),
      };
    }
    visits.push(made);
  }
  return visits.sort((a, b) => a.start - b.start || a.end - b.end);
}

/** Whole milliseconds, as a person would write them. */
export function tidy(time: number): number {
  return Number(time.toFixed(3));
}
