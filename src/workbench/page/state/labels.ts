import { computed, signal } from '@preact/signals';
import type { Labels } from '../../../score/labels.js';
import type { LabelsState } from '../../protocol.js';

/** What is said of the open clip; an empty sheet where nothing was said yet. */
export const labels = signal<Labels>({ version: 1, visits: [] });

/** The labels before and after what can be undone and done again, and what each step was. */
const past = signal<{ what: string; before: Labels }[]>([]);
const future = signal<{ what: string; after: Labels }[]>([]);

export const undoable = computed(() => past.value.at(-1)?.what ?? null);
export const redoable = computed(() => future.value.at(-1)?.what ?? null);

/** Starts from what is on disk. */
export function takeLabels(_clip: string, state: LabelsState): void {
  labels.value = state.labels ?? { version: 1, visits: [] };
  past.value = [];
  future.value = [];
}

/**
 * Changes the labels; it can be undone.
 * @param what in words, for the button that undoes it: 'a visit begun'
 */
export function change(what: string, to: (now: Labels) => Labels): void {
  past.value = [...past.value, { what, before: labels.value }];
  future.value = [];
  labels.value = to(labels.value);
}

export function undo(): void {
  const last = past.value.at(-1);
  if (!last) return;
  past.value = past.value.slice(0, -1);
  future.value = [...future.value, { what: last.what, after: labels.value }];
  labels.value = last.before;
}

export function redo(): void {
  const next = future.value.at(-1);
  if (!next) return;
  future.value = future.value.slice(0, -1);
  past.value = [...past.value, { what: next.what, before: labels.value }];
  labels.value = next.after;
}
