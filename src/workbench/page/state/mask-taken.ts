import { computed, signal } from '@preact/signals';
import type { Polygon } from '../../../engine/mask.js';
import { clip } from './clip.js';
import { labels } from './labels.js';

/** A mask that came with settings which the dials were set to, and the site that it was drawn for. */
export const maskTaken = signal<{ site: string | null; mask: Polygon[] } | null>(null);

/** The mask of the dials' own, in the place of the labels'; null where they have none at the site of the open clip. */
export const ownMask = computed<Polygon[] | null>(() => {
  const taken = maskTaken.value;
  return taken && clip.value && clip.value.site === taken.site ? taken.mask : null;
});

/** What is not watched under the dials as they stand. */
export const maskNow = computed<readonly Polygon[]>(() => ownMask.value ?? labels.value.mask ?? []);
