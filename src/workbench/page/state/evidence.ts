import { effect, type ReadonlySignal, signal } from '@preact/signals';
import { keepsEvidence } from '../../../camera/keeps-evidence.js';
import type { Polygon } from '../../../engine/mask.js';
import type { EvidenceReady } from '../../protocol.js';
import { addressOf } from '../link/addresses.js';
import { askBytes, askLong } from '../link/api.js';
import { hold } from '../worker/bridge.js';
import type { Slot } from '../worker/held.js';
import { clip } from './clip.js';
import { maskNow } from './mask-taken.js';
import { trouble } from './trouble.js';
import { workspace } from './workspace.js';

/** Whether the worker holds evidence of the open clip, and how far reading it is. */
export type EvidenceState =
  | { kind: 'none' }
  | { kind: 'reading'; share: number }
  | { kind: 'held'; clip: string; mask: readonly Polygon[]; levels: number[]; frames: number };

const again = signal(0);

/** Reads it where that failed before. */
export function readAgain(): void {
  again.value++;
}

/**
 * Reads anew whenever what evidence depends on is another: the clip, the camera, the mask.
 * @param mask under which; null: no evidence is wanted
 */
export function evidenceUnder(
  slot: Slot,
  mask: ReadonlySignal<readonly Polygon[] | null>,
): ReadonlySignal<EvidenceState> {
  const state = signal<EvidenceState>({ kind: 'none' });
  let stop = new AbortController();
  let held = '';
  const read = async (id: string, under: readonly Polygon[]) => {
    stop.abort();
    stop = new AbortController();
    const { signal: mine } = stop;
    state.value = { kind: 'reading', share: 0 };
    try {
      const { address } = await askLong<EvidenceReady>(`${addressOf(id)}/evidence`, {
        signal: mine,
        body: { mask: under },
        onProgress: (done, total) => {
          state.value = { kind: 'reading', share: done / total };
        },
      });
      const bytes = await askBytes(address, { signal: mine });
      const about = await hold(slot, bytes);
      if (!mine.aborted) state.value = { kind: 'held', clip: id, mask: under, ...about };
    } catch (error) {
      if (mine.aborted) return;
      state.value = { kind: 'none' };
      held = '';
      trouble.value = (error as Error).message;
    }
  };
  effect(() => {
    void again.value;
    const open = clip.value;
    const camera = workspace.value?.camera;
    const under = mask.value;
    if (!open || !camera) return;
    const key = under ? JSON.stringify([open.id, camera, under]) : '';
    if (key === held) return;
    held = key;
    if (!under || !keepsEvidence(camera)) {
      stop.abort();
      state.value = { kind: 'none' };
      return;
    }
    void read(open.id, under);
  });
  return state;
}

/** That under the mask of the dials as they stand. */
export const evidence = evidenceUnder('dials', maskNow);
