import { computed, effect, signal } from '@preact/signals';
import type { ClipAsked, MaskingTold } from '../../../diagnosis-protocol.js';
import { addressOf } from '../../link/addresses.js';
import { askLong } from '../../link/api.js';
import { clip } from '../../state/clip.js';
import { evidence } from '../../state/evidence.js';
import { labels } from '../../state/labels.js';
import { settings } from '../../state/settings.js';
import { shownId } from '../../state/shown.js';
import { workspace } from '../../state/workspace.js';
import { fileOf } from '../why/diagnosis.js';

/** What the mask does to the open clip, or how far finding it out is; `told` may be of the mask before. */
export const masking = signal<{
  told: MaskingTold | null;
  phase: string | null;
  share: number | null;
  trouble: string | null;
}>({
  told: null,
  phase: null,
  share: null,
  trouble: null,
});

/** What it depends on; null until that is known and the clip has been read under this mask. */
const key = computed(() => {
  const [open, camera, now] = [clip.value, workspace.value?.camera, settings.value];
  if (shownId.value !== 'mask' || !open || !camera || !now || evidence.value.kind === 'reading') return null;
  const { causes: _, foliage: __, ...said } = labels.value;
  return JSON.stringify([open.id, camera, now, said]);
});

let stop = new AbortController();
let known = '';
let knownClip = '';

effect(() => {
  const now = key.value;
  if (now === null || now === known) return;
  stop.abort();
  known = now;
  void ask();
});

async function ask(): Promise<void> {
  const [open, now] = [clip.peek(), settings.peek()];
  if (!open || !now) return;
  stop = new AbortController();
  const { signal: mine } = stop;
  const told = open.id === knownClip ? masking.peek().told : null;
  knownClip = open.id;
  masking.value = { told, phase: 'trying the mask', share: null, trouble: null };
  const body: ClipAsked = { settings: fileOf(now), labels: labels.peek() };
  try {
    const answer = await askLong<MaskingTold>(`${addressOf(open.id)}/masking`, {
      body,
      signal: mine,
      onPhase: (phase) => {
        masking.value = { ...masking.value, phase, share: null };
      },
      onProgress: (done, total) => {
        if (total > 0) masking.value = { ...masking.value, share: done / total };
      },
    });
    if (!mine.aborted) masking.value = { told: answer, phase: null, share: null, trouble: null };
  } catch (error) {
    if (mine.aborted) return;
    known = '';
    masking.value = { told, phase: null, share: null, trouble: (error as Error).message };
  }
}
