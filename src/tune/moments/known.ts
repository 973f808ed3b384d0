import type { Labels } from '../../score/labels.js';
import { isCovered } from '../../score/quiet-stretches.js';
import { holds, type Stretch, touchesAny, union } from '../../score/stretches.js';

/** What the labels say of a stretch of the clip; null: nobody has looked at it. */
export type Known = 'animal' | 'person' | 'set aside' | 'nothing' | null;

/**
 * Whether nothing has been said of a clip yet: then nothing of it counts as looked through, though labels that leave
 * `reviewed` out mean all of it.
 */
export function isFresh({ visits, ignored, reviewed }: Labels): boolean {
  return reviewed === undefined && visits.length === 0 && (ignored ?? []).length === 0;
}

/** What a person looked through; null: all of the clip. */
export function reviewedOf(labels: Labels): Stretch[] | null {
  return isFresh(labels) ? [] : (labels.reviewed ?? null);
}

/** Tells of stretches what the labels say of them. */
export function knower(labels: Labels): (stretch: Stretch) => Known {
  const of = (is: (type: string) => boolean) => union(labels.visits.filter(({ type }) => is(type)));
  const animals = of((type) => type === 'animal');
  const others = of((type) => type !== 'animal');
  const aside = union(labels.ignored ?? []);
  const reviewed = reviewedOf(labels);
  const seen = reviewed && union(reviewed);
  return (stretch) => {
    if (touchesAny(animals, stretch)) return 'animal';
    if (touchesAny(others, stretch)) return 'person';
    if (aside.some((one) => holds(one, stretch.start) && holds(one, stretch.end))) return 'set aside';
    return seen === null || isCovered(seen, stretch) ? 'nothing' : null;
  };
}
