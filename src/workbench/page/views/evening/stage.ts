import { signal } from '@preact/signals';
import type {
  EveningBroughtIn,
  EveningListed,
  EveningOpened,
  EveningsListed,
  PromiseFound,
} from '../../../evening-protocol.js';
import { ask, askLong } from '../../link/api.js';
import { workspace } from '../../state/workspace.js';
import { freeName, plainName } from '../bring-in/chosen.js';
import type { Placed } from '../bring-in/dropped.js';
import { bringInAs, type Sent } from '../bring-in/send.js';
import { photosAmong } from './photos.js';
import { EveningSession } from './session.js';

/** Where this view is: an evening to be chosen, new photos to be named or on their way, or an evening that is open. */
export type Stage =
  | { kind: 'choose'; why: string | null }
  | { kind: 'name'; photos: Sent[]; why: string | null }
  | { kind: 'going'; what: string; share: number | null }
  | { kind: 'open'; session: EveningSession };

export const stage = signal<Stage>({ kind: 'choose', why: null });
export const evenings = signal<readonly EveningListed[]>([]);
export const promises = signal<readonly PromiseFound[]>([]);
/** Spots of the folder's project; null: there is none. */
export const spots = signal<readonly string[] | null>(null);
/** What the new folder is to be called, and of which spot its photos are; empty: not said. */
export const newName = signal('');
export const newSpot = signal('');

let stopping = new AbortController();

/** What is in the folder now. */
export async function loadEvenings(): Promise<void> {
  try {
    const listed = await ask<EveningsListed>('api/evenings');
    evenings.value = listed.evenings;
    promises.value = listed.promises;
    spots.value = listed.spots;
  } catch (error) {
    if (stage.value.kind === 'choose') stage.value = { kind: 'choose', why: (error as Error).message };
  }
}

export function again(why: string | null = null): void {
  stage.value = { kind: 'choose', why };
  void loadEvenings();
}

export function stop(): void {
  stopping.abort();
}

/** Names of what is in the folder, which no new folder can have. */
export function taken(): string[] {
  const clips = workspace.value?.clips.map(({ name }) => name) ?? [];
  return [...clips, ...evenings.value.map(({ id }) => id)];
}

/** Takes what was chosen or dropped. */
export function take(files: readonly Placed[], folder: string): void {
  const photos = photosAmong(files);
  if (photos.length === 0) {
    stage.value = {
      kind: 'choose',
      why:
        files.length === 0
          ? 'There is nothing in it.'
          : `Of ${files.length} files none is a photo (JPEG or PNG).`,
    };
    return;
  }
  newName.value = freeName(plainName(folder === '' ? 'evening' : folder), taken());
  newSpot.value = spots.value?.length === 1 ? spots.value[0]! : '';
  stage.value = { kind: 'name', photos, why: null };
}

/** Sends photos into a new folder, and opens it. */
export async function send(photos: Sent[]): Promise<void> {
  stopping = new AbortController();
  const { signal: mine } = stopping;
  const name = newName.value.trim();
  const site = newSpot.value;
  const notes: string[] = [];
  const all = photos.reduce((sum, { file }) => sum + file.size, 0);
  let what = 'copying the photos';
  const show = (share: number | null) => {
    stage.value = { kind: 'going', what, share };
  };
  show(0);
  try {
    const { evening } = await bringInAs<EveningBroughtIn>(
      'evening',
      photos,
      { name, ...(site !== '' && { site }) },
      mine,
      (sent) => show(all === 0 ? null : sent / all),
      {
        onPhase: (phase) => {
          what = phase;
          show(null);
        },
        onProgress: (done, total) => show(done / total),
        onWarning: (line) => notes.push(line),
      },
    );
    await loadEvenings();
    await open(evening, notes);
  } catch (error) {
    await loadEvenings();
    const isThere = evenings.value.some(({ id }) => id === name);
    if (mine.aborted && isThere) again(`It was finished before it could be stopped: ${name} is here.`);
    else if (mine.aborted) stage.value = { kind: 'name', photos, why: 'Stopped; nothing of it was kept.' };
    else stage.value = { kind: 'name', photos, why: (error as Error).message };
  }
}

/**
 * Opens an evening that is in the folder.
 * @param before what is to be known of it beside what opening it tells
 */
export async function open(id: string, before: readonly string[] = []): Promise<void> {
  stopping = new AbortController();
  const { signal: mine } = stopping;
  const notes = [...before];
  let what = `opening ${id}`;
  stage.value = { kind: 'going', what, share: null };
  try {
    const opened = await askLong<EveningOpened>(`api/evenings/${encodeURIComponent(id)}/open`, {
      signal: mine,
      onPhase: (phase) => {
        what = `${id}: ${phase}`;
      },
      onProgress: (done, total) => {
        stage.value = { kind: 'going', what, share: done / total };
      },
      onWarning: (line) => notes.push(line),
    });
    stage.value = { kind: 'open', session: new EveningSession(opened, notes) };
  } catch (error) {
    again(mine.aborted ? null : (error as Error).message);
  }
}
