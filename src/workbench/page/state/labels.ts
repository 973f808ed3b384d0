import { computed, signal } from '@preact/signals';
import type { Labels } from '../../../score/labels.js';
import type { LabelsState } from '../../protocol.js';
import { changed, type History, redone, startedWith, undone } from './history.js';
import { emptyLabels, type Sheet } from './sheet.js';

const history = signal<History>(startedWith(emptyLabels));

/** What is said of the open clip; an empty sheet where nothing was said yet. */
export const labels = computed<Labels>(() => history.value.now.labels);

/** What has begun and not ended yet, by its place in the list of its kind. */
export const begun = computed<Sheet['begun']>(() => history.value.now.begun);

export const undoable = computed(() => history.value.past?.what ?? null);
export const redoable = computed(() => history.value.future?.what ?? null);

/** Starts from what is on disk. */
export function takeLabels(_clip: string, state: LabelsState): void {
  history.value = startedWith(state.labels ?? emptyLabels);
}

/**
 * Changes the labels; it can be undone.
 * @param what in words, for the button that undoes it: 'a visit begun'
 * @param joins changes in a row with the same are undone together: letters typed into one field
 */
export function change(what: string, to: (now: Labels) => Labels, joins: string | null = null): void {
  changeSheet(what, ({ labels: now, begun: open }) => ({ labels: to(now), begun: open }), joins);
}

/** The same for what begins or ends a stretch. */
export function changeSheet(what: string, to: (now: Sheet) => Sheet, joins: string | null = null): void {
  const { now } = history.value;
  const next = to(now);
  if (next.labels === now.labels && next.begun === now.begun) return;
  history.value = changed(history.value, what, next, joins);
}

export function undo(): void {
  history.value = undone(history.value);
}

export function redo(): void {
  history.value = redone(history.value);
}
