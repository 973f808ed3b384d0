import { signal } from '@preact/signals';
import type { Moment } from '../../../../tune/moments/find.js';
import type { BoxesAsked, BoxesFound } from '../../../routes/differences.js';
import { addressOf } from '../../link/addresses.js';
import { ask } from '../../link/api.js';
import { trouble } from '../../state/trouble.js';

/** x, y, width, height as fractions of the frame. */
export type Box = NonNullable<BoxesFound['boxes'][number]>;

/** What changed most at the peaks of moments, by clip and peak; null where nothing did. */
export const boxes = signal<ReadonlyMap<string, Box | null>>(new Map());

const wanted = new Set<string>();

export const keyOf = (clip: string, { peak, level }: Moment) => `${clip} ${peak} ${level}`;

/** Asks for the boxes of some moments that were not asked for yet. */
export async function wantBoxes(clip: string, moments: readonly Moment[]): Promise<void> {
  const fresh = moments.filter((moment) => !wanted.has(keyOf(clip, moment)));
  for (const moment of fresh) wanted.add(keyOf(clip, moment));
  for (const threshold of new Set(fresh.map(({ level }) => level))) {
    const rising = fresh.filter(({ level }) => level === threshold).toSorted((a, b) => a.peak - b.peak);
    const body: BoxesAsked = { places: rising.map(({ peak }) => peak), threshold };
    try {
      const found = await ask<BoxesFound>(`${addressOf(clip)}/boxes`, { method: 'POST', body });
      const next = new Map(boxes.value);
      for (const [i, moment] of rising.entries()) next.set(keyOf(clip, moment), found.boxes[i] ?? null);
      boxes.value = next;
    } catch (error) {
      for (const moment of rising) wanted.delete(keyOf(clip, moment));
      trouble.value = (error as Error).message;
    }
  }
}
