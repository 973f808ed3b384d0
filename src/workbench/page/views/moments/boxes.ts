import { computed, signal } from '@preact/signals';
import type { Moment } from '../../../../tune/moments/find.js';
import type { BoxesAsked, BoxFound } from '../../../routes/differences.js';
import { addressOf } from '../../link/addresses.js';
import { askLong } from '../../link/api.js';
import { clip } from '../../state/clip.js';
import { labels, onDisk } from '../../state/labels.js';
import { trouble } from '../../state/trouble.js';
import { workspace } from '../../state/workspace.js';

/** x, y, width, height as fractions of the frame. */
export type Box = NonNullable<BoxFound['boxes'][number]>;

/** What boxes depend on: another clip, camera or mask has others, and those of the one before are let go. */
export const boxesGround = computed(() =>
  JSON.stringify([clip.value?.id, workspace.value?.camera, labels.value.mask ?? []]),
);

const held = signal<{ of: string; boxes: ReadonlyMap<string, Box | null> }>({ of: '', boxes: new Map() });
let wanted = { of: '', keys: new Set<string>() };

const keyOf = ({ peak, level }: Moment) => `${peak} ${level}`;

/** What changed most at the peak of a moment of the open clip: null where nothing did, undefined until it is known. */
export function boxOf(moment: Moment): Box | null | undefined {
  return held.value.of === boxesGround.value ? held.value.boxes.get(keyOf(moment)) : undefined;
}

/** Asks for the boxes of some moments of the open clip that were not asked for yet; each is there as soon as it is found. */
export async function wantBoxes(id: string, moments: readonly Moment[]): Promise<void> {
  const of = boxesGround.peek();
  if (wanted.of !== of) wanted = { of, keys: new Set() };
  const { keys } = wanted;
  const fresh = moments.filter((moment) => !keys.has(keyOf(moment)));
  if (fresh.length === 0) return;
  for (const moment of fresh) keys.add(keyOf(moment));
  // All in one, for a recording is read through for each request.
  const atPlace = new Map<number, Moment[]>();
  for (const moment of fresh.toSorted((a, b) => a.peak - b.peak)) {
    atPlace.set(moment.peak, [...(atPlace.get(moment.peak) ?? []), moment]);
  }
  const body: BoxesAsked = {
    places: [...atPlace.keys()],
    thresholds: [...atPlace.values()].map((there) => there.map(({ level }) => level)),
  };
  const found = ({ place, boxes }: BoxFound) => {
    if (boxesGround.peek() !== of) return;
    const next = new Map(held.peek().of === of ? held.peek().boxes : []);
    for (const [i, moment] of (atPlace.get(place) ?? []).entries()) next.set(keyOf(moment), boxes[i] ?? null);
    held.value = { of, boxes: next };
  };
  try {
    // The server looks under the mask that is on disk.
    await onDisk([id]);
    await askLong<null, BoxFound>(`${addressOf(id)}/boxes`, { body, onPart: found });
  } catch (error) {
    for (const moment of fresh) keys.delete(keyOf(moment));
    trouble.value = (error as Error).message;
  }
}
