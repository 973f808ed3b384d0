import { computed, effect, signal } from '@preact/signals';
import type { ResolvedSettings } from '../../../../camera/settings.js';
import type { Present } from '../../../../words/change-wording.js';
import type { ClipAsked, DiagnosisTold } from '../../../diagnosis-protocol.js';
import { addressOf } from '../../link/addresses.js';
import { askLong } from '../../link/api.js';
import { clip } from '../../state/clip.js';
import { causesElsewhere, labels } from '../../state/labels.js';
import { maskNow, ownMask } from '../../state/mask-taken.js';
import { settings } from '../../state/settings.js';
import { workspace } from '../../state/workspace.js';

/** A diagnosis with the dials and the mask that it is of. */
export interface Told {
  key: string;
  told: DiagnosisTold;
  now: Present;
}

/** How far the one that is asked for is. */
export type Asking =
  | { kind: 'idle' }
  | { kind: 'asking'; key: string; phase: string; share: number | null }
  | { kind: 'stopped'; key: string }
  | { kind: 'failed'; key: string; message: string };

export const asking = signal<Asking>({ kind: 'idle' });

/** Whether it learns from what the owner said of causes. */
export const learning = signal(false);

/** Answers are kept so that turning a dial back shows its own at once. */
const MOST_KEPT = 12;
const kept = signal<readonly Told[]>([]);

/** Names what a diagnosis depends on; null until that is known. */
export const keyNow = computed(() => {
  const [open, camera, now] = [clip.value, workspace.value?.camera, settings.value];
  if (!open || !camera || !now) return null;
  const { causes = [], foliage: _, ...said } = labels.value;
  const learnt = learning.value ? [causes, causesElsewhere.value] : null;
  return JSON.stringify([open.id, camera, now, ownMask.value, said, learnt]);
});

/** The diagnosis of the open clip under the dials as they stand; null where it has not been asked for. */
export const told = computed(() => kept.value.find(({ key }) => key === keyNow.value) ?? null);

let stop = new AbortController();

// What was asked for is of no use any more once something it depends on has changed.
effect(() => {
  const key = keyNow.value;
  const now = asking.peek();
  if (now.kind === 'idle' || now.key === key) return;
  stop.abort();
  asking.value = { kind: 'idle' };
});

/** Asks for the diagnosis, unless it is there or on its way. */
export async function find(): Promise<void> {
  const key = keyNow.value;
  const open = clip.value;
  const now = presentNow();
  if (key === null || !open || !now || told.value) return;
  if (asking.value.kind === 'asking' && asking.value.key === key) return;
  stop.abort();
  stop = new AbortController();
  const { signal: mine } = stop;
  asking.value = { kind: 'asking', key, phase: 'beginning', share: null };
  const settings = { ...fileOf(now.settings), ...(ownMask.value && { mask: ownMask.value }) };
  const body: ClipAsked = { settings, labels: labels.value, teach: learning.value };
  try {
    const answer = await askLong<DiagnosisTold>(`${addressOf(open.id)}/diagnosis`, {
      body,
      signal: mine,
      onPhase: (phase) => {
        asking.value = { kind: 'asking', key, phase, share: null };
      },
      onProgress: (done, total) => {
        if (asking.value.kind !== 'asking' || total === 0) return;
        asking.value = { ...asking.value, share: done / total };
      },
    });
    if (mine.aborted) return;
    kept.value = [...kept.value, { key, told: answer, now }].slice(-MOST_KEPT);
    asking.value = { kind: 'idle' };
  } catch (error) {
    if (!mine.aborted) asking.value = { kind: 'failed', key, message: (error as Error).message };
  }
}

/** Stops it, on the server too. */
export function stopFinding(): void {
  if (asking.value.kind !== 'asking') return;
  const { key } = asking.value;
  stop.abort();
  asking.value = { kind: 'stopped', key };
}

/** The dials as they stand, and the mask; null until they are known. */
function presentNow(): Present | null {
  const [camera, now] = [workspace.value?.camera, settings.value];
  return camera && now ? { camera, settings: now, mask: [...maskNow.value] } : null;
}

/** As a settings file has them. */
export function fileOf(now: Present['settings'] | ResolvedSettings): ClipAsked['settings'] {
  const { threshold, minimumArea, mostChanged, persistence, cooldown } = now;
  return { version: 1, threshold, minimumArea, mostChanged, persistence, cooldown };
}
