import { computed } from '@preact/signals';
import type { Labels } from '../../../score/labels.js';
import type { Judged } from '../../../score/replayed.js';
import { labels } from './labels.js';
import { replayed } from './settings.js';

/** For each visit of the labels, in their order, whether the dials as they stand catch it; null where it is not known. */
export const caught = computed(() => caughtOf(labels.value, replayed.value));

/** A replay tells animal visits in order of start; labels list all visits in any order. */
export function caughtOf({ visits }: Labels, replay: Pick<Judged, 'visits'> | null): (boolean | null)[] {
  const told = visits.map((): boolean | null => null);
  const animals = visits
    .map((visit, at) => ({ ...visit, at }))
    .filter(({ type }) => type === 'animal')
    .sort((a, b) => a.start - b.start || a.end - b.end);
  if (replay?.visits.length !== animals.length) return told;
  for (const [i, { at, start }] of animals.entries()) {
    const visit = replay.visits[i]!;
    // A replay of the labels as they were a moment ago may still be shown.
    if (visit.start === start) told[at] = visit.caught;
  }
  return told;
}
