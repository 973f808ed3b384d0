import { computed, signal } from '@preact/signals';
import type { Labels } from '../../../score/labels.js';
import type { LabelsState } from '../../protocol.js';
import { addressOf } from '../link/addresses.js';
import { changed, redone, startedWith, undone } from './history.js';
import { Session } from './session.js';
import { begunIn, freshLabels } from './sheet.js';

/** Clips whose way back is kept; of each it is without end. */
const MOST = 32;

/** Of the clips that were opened last: going back and forth between them forgets nothing. */
const sessions = new Map<string, Session>();

/** That of the open clip; null while there is none. */
export const session = signal<Session | null>(null);

const nothing = startedWith(freshLabels);
const history = computed(() => session.value?.history.value ?? nothing);

/** What is said of the open clip; an empty sheet where nothing was said yet. */
export const labels = computed<Labels>(() => history.value.now);

/** When what has begun and not ended yet did, by its kind; seconds. */
export const begun = computed(() => begunIn(labels.value));

export const undoable = computed(() => history.value.past?.what ?? null);
export const redoable = computed(() => history.value.future?.what ?? null);

/** Labels as they are said here now of a clip that was opened; null of others. */
export function labelsHere(id: string): Labels | null {
  return sessions.get(id)?.history.value.now ?? null;
}

/** Labels as they were when a clip was opened first; null of others. */
export function labelsAtFirst(id: string): Labels | null {
  return sessions.get(id)?.first ?? null;
}

/**
 * Waits until what is said of some clips is on disk, for the server reads it there.
 * @throws Error where that of one cannot be for now: one line on why
 */
export async function onDisk(ids: readonly string[]): Promise<void> {
  for (const id of ids) {
    await sessions
      .get(id)
      ?.onDisk()
      .catch((error: Error) => {
        throw new Error(`${id}: ${error.message}`);
      });
  }
}

/** Names given to visits so far, in this clip and in others that were opened. */
export const namesUsed = computed(() => {
  const said = new Set(labels.value.visits.map(({ name }) => name));
  for (const other of sessions.values()) {
    for (const { name } of other.history.peek().now.visits) said.add(name);
  }
  return [...said].filter((name) => name !== undefined).sort();
});

/** What is said of causes in other clips that were opened since the page was. */
export const causesElsewhere = computed(() => {
  const here = session.value;
  return [...sessions.values()].flatMap((other) =>
    other === here ? [] : [{ id: other.id, causes: other.history.value.now.causes ?? [] }],
  );
});

/** Starts from what is on disk, or goes on with what was done while the page is open. */
export function takeLabels(id: string, state: LabelsState): void {
  session.peek()?.keepSeen();
  const before = sessions.get(id);
  // What came with the clip may be older than what was written since.
  void before?.look();
  const now = before ?? new Session(id, state, addressOf(id));
  // The last to go.
  sessions.delete(id);
  sessions.set(id, now);
  session.value = now;
  letGoOfOld();
}

function letGoOfOld(): void {
  for (const [id, { saved, left }] of sessions) {
    if (sessions.size <= MOST) return;
    const isOpen = id === session.peek()?.id;
    if (!isOpen && saved.peek().kind === 'saved' && left.peek().length === 0) sessions.delete(id);
  }
}

/**
 * Changes the labels; it can be undone, and is saved at once.
 * @param what in words, for the button that undoes it: 'a visit begun'
 * @param joins changes in a row with the same are undone together: letters typed into one field
 */
export function change(what: string, to: (now: Labels) => Labels, joins: string | null = null): void {
  const { now } = history.value;
  const next = to(now);
  if (next !== now) session.value?.change(changed(history.value, what, next, joins));
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
