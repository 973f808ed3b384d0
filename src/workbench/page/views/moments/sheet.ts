import { batch } from '@preact/signals';
import { asReviewed, asVisit, withFound, withoutVisits } from '../../../../tune/moments/visits.js';
import { clip } from '../../state/clip.js';
import { change } from '../../state/labels.js';
import { OfClip } from '../../state/of-clip.js';
import { workspace } from '../../state/workspace.js';
import { asked, knownOf } from './asked.js';

/** Rows on one sheet: three of four, two of six. */
const ROWS = 12;

/** Places of the rows on the sheet. It stays as it is while they are answered, so that nothing moves under the hand. */
export const sheet = new OfClip<readonly number[]>([]);
/** Those of them that are ticked. */
export const ticked = new OfClip<ReadonlySet<number>>(new Set());
/** Which of the sheet is at hand, by its place on it. */
export const atHand = new OfClip(0);

/** Lays out the rows that matter most now. */
export function layOut(): void {
  batch(() => {
    sheet.value = asked.value?.order.filter(isOpen).slice(0, ROWS) ?? [];
    ticked.value = new Set();
    atHand.value = 0;
  });
}

export function tick(row: number, on = !ticked.value.has(row)): void {
  const next = new Set(ticked.value);
  if (on) next.add(row);
  else next.delete(row);
  ticked.value = next;
}

/** Ticks all that nobody has answered yet; where they are ticked, none. */
export function tickAll(): void {
  const open = sheet.value.filter((row) => isOpen(row));
  const all = open.every((row) => ticked.value.has(row));
  ticked.value = new Set(all ? [] : open);
}

export function isOpen(row: number): boolean {
  const found = asked.value?.rows[row];
  return found !== undefined && knownOf(found) === null;
}

/** With nothing ticked, on to the next that nobody answered; from the last of a sheet to the next sheet. */
export function goOn(): void {
  // What is ticked waits for an answer.
  if (ticked.value.size > 0) return;
  const places = sheet.value.map((_, place) => place);
  const after = [...places.slice(atHand.value + 1), ...places.slice(0, atHand.value + 1)];
  const next = after.find((place) => isOpen(sheet.value[place]!));
  if (next === undefined) layOut();
  else atHand.value = next;
}

export type Answer = 'animal' | 'person' | 'nothing';

/** Says what the ticked rows are, or where none is ticked the one at hand; one step to undo. */
export function answer(as: Answer): void {
  const [open, camera, now] = [clip.value, workspace.value?.camera, asked.value];
  const rows = ticked.value.size > 0 ? [...ticked.value] : sheet.value.slice(atHand.value, atHand.value + 1);
  if (!open || !camera || !now || rows.length === 0) return;
  const moments = rows.flatMap((row) => now.rows[row]!.members).map((member) => now.moments[member]!);
  const visits = moments.map((moment) => asVisit(moment, open.seconds));
  const looked = moments.map((moment) => asReviewed(moment, camera, open.seconds));
  const type = as === 'person' ? 'human' : 'animal';
  batch(() => {
    change(`${moments.length === 1 ? 'a moment' : `${moments.length} moments`} called ${as}`, (labels) =>
      withFound(withoutVisits(labels, visits), looked, as === 'nothing' ? [] : visits, type),
    );
    ticked.value = new Set();
    goOn();
  });
}
