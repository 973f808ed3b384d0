import type { Camera } from '../../camera/description.js';
import { photosFor } from '../../camera/timing.js';
import type { Labels } from '../../score/labels.js';
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
): Labels {
  const { reviewed } = labels;
  return {
    ...labels,
    // Left out: all of it was, and still is.
    ...(reviewed && { reviewed: union([...reviewed, ...looked]) }),
    visits: joined(labels.visits, visits, type),
  };
}

/** Labels without the visits that lie within some stretches, which somebody looks at anew; longer ones stay. */
export function withoutVisits(labels: Labels, stretches: readonly Stretch[]): Labels {
  const within = ({ start, end }: Stretch) =>
    stretches.some((one) => start >= one.start - 0.01 && end <= one.end + 0.01);
  return { ...labels, visits: labels.visits.filter((visit) => !within(visit)) };
}

/** Visits of one type within a few seconds of each other become one; one that was there goes on with its name and box. */
function joined(
  before: Labels['visits'],
  found: readonly Stretch[],
  type: 'animal' | 'human',
): Labels['visits'] {
  const visits = [...before];
  for (const { start, end } of found.toSorted((a, b) => a.start - b.start)) {
    const near = visits.findIndex(
      (visit) => visit.type === type && visit.start <= end + SAME_VISIT && visit.end >= start - SAME_VISIT,
    );
    if (near < 0) visits.push({ start, end, type });
    else {
      const visit = visits[near]!;
      visits[near] = { ...visit, start: Math.min(visit.start, start), end: Math.max(visit.end, end) };
    }
  }
  return visits.sort((a, b) => a.start - b.start || a.end - b.end);
}

/** Whole milliseconds, as a person would write them. */
export function tidy(time: number): number {
  return Number(time.toFixed(3));
}
