import { computed, effect, signal } from '@preact/signals';
import type { Asked } from '../../../../tune/moments/ask.js';
import { type Known, knower, knownTogether } from '../../../../tune/moments/known.js';
import { wish } from '../../state/answer.js';
import { clip } from '../../state/clip.js';
import { evidence } from '../../state/evidence.js';
import { labels } from '../../state/labels.js';
import { trouble } from '../../state/trouble.js';
import { workspace } from '../../state/workspace.js';
import { engine } from '../../worker/bridge.js';
import type { Engine } from '../../worker/engine.js';
import { NewestOnly } from '../../worker/newest.js';

type Question = Parameters<Engine['moments']>;

/** What is worth asking about the open clip; null until it is known. */
export const asked = signal<(Asked & { clip: string }) | null>(null);

/** Whether what stands in `asked` is being worked out anew. */
export const asking = signal(false);

/** Keeps `asked` up to date until it is told to stop. The latest question counts; the page never waits for one. */
export function keepAsking(): () => void {
  let latest = 0;
  const newest = new NewestOnly((question: Question) => engine().moments(...question));
  const stop = effect(() => {
    const [open, camera, said, held] = [clip.value, workspace.value?.camera, labels.value, evidence.value];
    const { worth } = wish.value;
    const mine = ++latest;
    if (!open || !camera || held.kind !== 'held' || held.clip !== open.id) {
      asked.value = null;
      return;
    }
    asking.value = true;
    newest
      .answer([camera, said, open.seconds, worth, open.id])
      .then(
        (answer) => {
          if (answer && mine === latest) asked.value = { ...answer, clip: open.id };
        },
        (error: Error) => {
          if (mine === latest) trouble.value = error.message;
        },
      )
      .finally(() => {
        if (mine === latest) asking.value = false;
      });
  });
  return () => {
    latest++;
    stop();
  };
}

/** What the labels say now of each moment, without waiting for the worker. */
export const knownNow = computed<Known[]>(() => asked.value?.moments.map(knower(labels.value)) ?? []);

/** What the labels say now of some moments together: null while one of them is unknown. */
export function knownOf(members: readonly number[]): Known {
  return knownTogether(members.map((member) => knownNow.value[member] ?? null));
}
