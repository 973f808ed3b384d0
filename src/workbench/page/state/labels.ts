import { computed, signal } from '@preact/signals';
import type { Labels } from '../../../score/labels.js';
import type { LabelsState } from '../../protocol.js';
import { addressOf } from '../link/addresses.js';
import { changed, redone, startedWith, undone } from './history.js';
import { Session } from './session.js';
import { emptyLabels, type Sheet } from './sheet.js';

/** Of every clip that was opened since the page was: going back and forth between clips forgets nothing. */
const sessions = new Map<string, Session>();

/** That of the open clip; null while there is none. */
export const session = signal<Session | null>(null);

const nothing = startedWith(emptyLabels);
const history = computed(() => session.value?.history.value ?? nothing);

/** What is said of the open clip; an empty sheet where nothing was said yet. */
export const labels = computed<Labels>(() => history.value.now.labels);

/** Whether the clip came with labels, or something was said of it here. */
export const isLabelled = computed(() => session.value?.there.value ?? false);

/** What has begun and not ended yet, by its place in the list of its kind. */
export const begun = computed<Sheet['begun']>(() => history.value.now.begun);

export const undoable = computed(() => history.value.past?.what ?? null);
export const redoable = computed(() => history.value.future?.what ?? null);

/** Names given to visits so far, in this clip and in others that were opened. */
export const namesUsed = computed(() => {
  const said = new Set(labels.value.visits.map(({ name }) => name));
  for (const other of sessions.values()) {
    for (const { name } of other.history.peek().now.labels.visits) said.add(name);
  }
  return [...said].filter((name) => name !== undefined).sort();
});

/** What is said of causes in other clips that were opened since the page was. */
export const causesElsewhere = computed(() => {
  const here = session.value;
  return [...sessions.values()].flatMap((other) =>
    other === here ? [] : [{ id: other.id, causes: other.history.value.now.labels.causes ?? [] }],
  );
});

/** Starts from what is on disk, or goes on with what was done while the page is open. */
export function takeLabels(id: string, state: LabelsState): void {
  const before = sessions.get(id);
  before?.meet(state);
  const now = before ?? new Session(id, state, addressOf(id));
  sessions.set(id, now);
  session.value = now;
}

/**
 * Changes the labels; it can be undone, and is saved at once.
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
  session.value?.go(changed(history.value, what, next, joins));
}

export function undo(): void {
  session.value?.go(undone(history.value));
}

export function redo(): void {
  session.value?.go(redone(history.value));
}

/** Looks at the file again whenever the page is looked at again, and does not let go of what is not saved unasked. */
export function watchLabels(): void {
  window.addEventListener('focus', () => void session.value?.look());
  window.addEventListener('beforeunload', (event) => {
    if ([...sessions.values()].some(({ saved }) => saved.value.kind !== 'saved')) event.preventDefault();
  });
}
