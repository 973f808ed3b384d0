import { effect, signal } from '@preact/signals';
import { keepsEvidence } from '../../../camera/description.js';
import type { EvidenceReady } from '../../protocol.js';
import { addressOf } from '../link/addresses.js';
import { askBytes, askLong } from '../link/api.js';
import { hold } from '../worker/bridge.js';
import { clip } from './clip.js';
import { labels } from './labels.js';
import { trouble } from './trouble.js';
import { workspace } from './workspace.js';

/** Whether the worker holds the evidence of the open clip, and how far reading it is. */
export const evidence = signal<
  | { kind: 'none' }
  | { kind: 'reading'; share: number }
  | { kind: 'held'; clip: string; levels: number[]; frames: number }
>({ kind: 'none' });

let stop = new AbortController();
let held = '';
const again = signal(0);

/** Reads it where that failed before. */
export function readAgain(): void {
  again.value++;
}

/** Reads anew whenever what evidence depends on is another: the clip, the camera, the mask. */
effect(() => {
  void again.value;
  const open = clip.value;
  const camera = workspace.value?.camera;
  if (!open || !camera) return;
  const key = JSON.stringify([open.id, camera, labels.value.mask ?? []]);
  if (key === held) return;
  held = key;
  if (!keepsEvidence(camera)) {
    stop.abort();
    evidence.value = { kind: 'none' };
    return;
  }
  void read(open.id);
});

async function read(id: string): Promise<void> {
  stop.abort();
  stop = new AbortController();
  const { signal: mine } = stop;
  evidence.value = { kind: 'reading', share: 0 };
  try {
    const { address } = await askLong<EvidenceReady>(`${addressOf(id)}/evidence`, {
      signal: mine,
      body: { mask: labels.value.mask ?? [] },
      onProgress: (done, total) => {
        evidence.value = { kind: 'reading', share: done / total };
      },
    });
    const bytes = await askBytes(address, { signal: mine });
    const about = await hold(bytes);
    if (!mine.aborted) evidence.value = { kind: 'held', clip: id, ...about };
  } catch (error) {
    if (mine.aborted) return;
    evidence.value = { kind: 'none' };
    held = '';
    trouble.value = (error as Error).message;
  }
}
