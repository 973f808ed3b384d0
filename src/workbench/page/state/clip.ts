import { batch, computed, signal } from '@preact/signals';
import { nearestPlace } from '../../../base/nearest.js';
import type { ClipOpened } from '../../protocol.js';
import { addressOf } from '../link/addresses.js';
import { askLong } from '../link/api.js';
import { takeLabels } from './labels.js';
import { trouble } from './trouble.js';

/** The clip that is looked at. */
export const clip = signal<ClipOpened | null>(null);

/** What goes on while one is opened: its name, and how far. */
export const opening = signal<{ id: string; phase: string; share: number | null } | null>(null);

/** Which of the clip's stored frames is shown, from 0. */
export const frame = signal(0);

/** Seconds from the clip's start. */
export const time = computed(() => clip.value?.times[frame.value] ?? 0);

let stop = new AbortController();

/** Opens a clip of the folder in place of the one that is open. */
export async function openClip(id: string): Promise<void> {
  // It is there, or on its way: opened again it would begin at its first frame again.
  if (opening.value?.id === id || (opening.value === null && clip.value?.id === id)) return;
  stop.abort();
  stop = new AbortController();
  const { signal: mine } = stop;
  opening.value = { id, phase: 'opening', share: null };
  try {
    const opened = await askLong<ClipOpened>(`${addressOf(id)}/open`, {
      signal: mine,
      onPhase: (phase) => {
        opening.value = { id, phase, share: null };
      },
      onProgress: (done, total) => {
        opening.value = { id, phase: opening.value?.phase ?? '', share: done / total };
      },
    });
    batch(() => {
      clip.value = opened;
      frame.value = 0;
      takeLabels(id, opened.labels);
      trouble.value = null;
    });
  } catch (error) {
    if (!mine.aborted) trouble.value = (error as Error).message;
  } finally {
    if (!mine.aborted) opening.value = null;
  }
}

/** The frame nearest to a time, the earlier of two equally near. */
export function frameAt(seconds: number): number {
  return nearestPlace(clip.value?.times ?? [], seconds);
}

/** Shows the frame nearest to a time. */
export function showTime(seconds: number): void {
  if (clip.value) frame.value = frameAt(seconds);
}

/** So many frames on, or back. */
export function step(frames: number): void {
  const last = (clip.value?.times.length ?? 1) - 1;
  frame.value = Math.min(last, Math.max(0, frame.value + frames));
}
