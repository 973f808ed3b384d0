import type { Labels } from '../../score/labels.js';
import { isCovered } from '../../score/quiet-stretches.js';
import { holds, type Stretch, touchesAny, union } from '../../score/stretches.js';

/** What the labels say of a stretch of the clip; null: nobody has looked at it. */
export type Known = 'animal' | 'person' | 'set aside' | 'nothing' | null;

/** Tells of stretches what the labels say of them. */
export function knower(labels: Labels): (stretch: Stretch) => Known {
  const of = (is: (type: string) => boolean) => union(labels.visits.filter(({ type }) => is(type)));
  const animals = of((type) => type === 'animal');
  const others = of((type) => type !== 'animal');
  const aside = union(labels.ignored ?? []);
  // Left out: all of it.
  const seen = labels.reviewed ? union(labels.reviewed) : null;
  return (stretch) => {
    if (touchesAny(animals, stretch)) return 'animal';
    if (touchesAny(others, stretch)) return 'person';
    if (aside.some((one) => holds(one, stretch.start) && holds(one, stretch.end))) return 'set aside';
    return seen === null || isCovered(seen, stretch) ? 'nothing' : null;
  };
}

/** What is known of several: nothing while one of them is not, an animal where one of them is. */
export function knownTogether(all: readonly Known[]): Known {
  if (all.includes(null)) return null;
  return all.includes('animal') ? 'animal' : all[0]!;
}
