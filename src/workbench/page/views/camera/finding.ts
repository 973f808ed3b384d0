import { signal } from '@preact/signals';
import { timeLeft } from '../../../../base/time-left.js';
import type { EveningListed, EveningsListed } from '../../../evening-protocol.js';
import type { CameraFound, FitAsked } from '../../../fit-protocol.js';
import { ask, askLong, type Told } from '../../link/api.js';
import type { Placed } from '../bring-in/dropped.js';
import { bringInAs } from '../bring-in/send.js';
import { outcome } from './draft.js';
import { type Fired, firedFrom } from './fired-files.js';

type Chosen = Exclude<Fired, { kind: 'nothing' }>;

/** Where finding a camera is: nothing chosen, what tells when it fired, on its way, or what was found. */
export type Finding =
  | { kind: 'choose'; why: string | null }
  | { kind: 'ready'; fired: Chosen | { kind: 'evening'; id: string }; why: string | null }
  | { kind: 'going'; what: string; at: string | null; share: number | null; left: string | null }
  | { kind: 'found'; found: CameraFound };

export const finding = signal<Finding>({ kind: 'choose', why: null });
/** Whether what is kept of the camera is right, but for what is to be found. */
export const isKnown = signal(false);
/** Photos a trigger as the owner says; null: as the photos show. */
export const each = signal<number | null>(null);
/** Evenings of the folder, whose photos tell when the camera fired. */
export const evenings = signal<readonly EveningListed[]>([]);

let stopping = new AbortController();

/** What is in the folder, and what was found last, unless something else is at hand. */
export async function loadFinding(): Promise<void> {
  try {
    evenings.value = (await ask<EveningsListed>('api/evenings')).evenings.filter(
      ({ problem }) => problem === null,
    );
    const last = await ask<CameraFound | null>('api/fitted');
    if (last && finding.value.kind === 'choose') finding.value = { kind: 'found', found: last };
  } catch (error) {
    if (finding.value.kind === 'choose') finding.value = { kind: 'choose', why: (error as Error).message };
  }
}

export function again(): void {
  finding.value = { kind: 'choose', why: null };
}

export function stop(): void {
  stopping.abort();
}

/** Takes what was chosen or dropped. */
export function take(files: readonly Placed[]): void {
  const fired = firedFrom(files);
  finding.value =
    fired.kind === 'nothing' ? { kind: 'choose', why: fired.why } : { kind: 'ready', fired, why: null };
}

export function takeEvening(id: string): void {
  finding.value = { kind: 'ready', fired: { kind: 'evening', id }, why: null };
}

/** Finds the camera that fired while a clip was recorded. */
export async function find(clip: string, fired: Extract<Finding, { kind: 'ready' }>['fired']): Promise<void> {
  stopping = new AbortController();
  const { signal: mine } = stopping;
  // What was kept before would stand under what is found, as if that were kept.
  outcome.value = null;
  let what = 'sending';
  let began = performance.now();
  const show = (share: number | null, at: string | null = null) => {
    const left = share === null ? null : timeLeft(performance.now() - began, share, 1);
    finding.value = { kind: 'going', what, at, share, left };
  };
  const told: Told = {
    onPhase: (phase) => {
      what = phase;
      began = performance.now();
      show(null);
    },
    onProgress: (done, total, at) => show(done / total, at),
  };
  show(null);
  const wanted: FitAsked = { clip, known: isKnown.value, ...(each.value !== null && { each: each.value }) };
  try {
    const found =
      fired.kind === 'evening'
        ? await askLong<CameraFound>('api/fit', {
            body: { ...wanted, evening: fired.id },
            signal: mine,
            ...told,
          })
        : await bringInAs<CameraFound>(
            'fit',
            fired.files,
            { ...wanted, photos: fired.kind === 'photos' },
            mine,
            (sent) => show(sent / Math.max(1, fired.bytes)),
            told,
          );
    outcome.value = null;
    finding.value = { kind: 'found', found };
  } catch (error) {
    const why = mine.aborted
      ? 'Stopped. What was read is kept, so that it is quicker the next time.'
      : (error as Error).message;
    finding.value = { kind: 'ready', fired, why };
  }
}
