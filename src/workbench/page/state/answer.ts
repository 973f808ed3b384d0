import { batch, computed, signal } from '@preact/signals';
import type { SettingsFile } from '../../../camera/settings.js';
import type { SiteResult, Wanted } from '../../../jobs/tune.js';
import type { Labels } from '../../../score/labels.js';
import type { Answered, AnswerSave, Saved, TuneAsked } from '../../answer-protocol.js';
import { ask, askLong } from '../link/api.js';
import { clip } from './clip.js';
import { labelsAtFirst, labelsHere, onDisk, session } from './labels.js';
import { sameLabels } from './merge.js';
import { loadWorkspace, workspace } from './workspace.js';

/** How the question what to use stands. */
export type Asking =
  | { kind: 'none' }
  | { kind: 'working'; phase: string; share: number | null }
  | { kind: 'stopped' }
  | { kind: 'refused'; why: string }
  | { kind: 'answered'; answered: Answered; notes: string[] };

export const asking = signal<Asking>({ kind: 'none' });

/** The last answer, which stays while another is worked out. */
const lastAnswer = signal<Answered | null>(null);

/** What the last answer rests on: the camera, and the labels of its clips; null of one that was not opened here by then. */
const restsOn = signal<{ camera: string; clips: Map<string, Labels | null> } | null>(null);

/** Whether the camera or labels have been changed since the last answer. */
export const isStale = computed(() => {
  // Clips that are opened are known from then on.
  void session.value;
  const on = restsOn.value;
  if (!on) return false;
  const isOther = (id: string, then: Labels | null) => {
    const [now, before] = [labelsHere(id), then ?? labelsAtFirst(id)];
    return now !== null && before !== null && !sameLabels(judged(now), judged(before));
  };
  return (
    on.camera !== JSON.stringify(workspace.value?.camera) ||
    [...on.clips].some(([id, then]) => isOther(id, then))
  );
});

function groundOf(clips: readonly string[]): NonNullable<typeof restsOn.value> {
  return {
    camera: JSON.stringify(workspace.value?.camera),
    clips: new Map(clips.map((id) => [id, labelsHere(id)])),
  };
}

/** What of labels an answer depends on. */
function judged({ causes: _, ...rest }: Labels): Labels {
  return rest;
}

/** What was found for the site of the open clip; null where nothing was. */
const siteHere = computed<SiteResult | null>(() => {
  const open = clip.value;
  if (!open) return null;
  return (
    lastAnswer.value?.sites.find(({ site, clips }) => site === open.site || clips.includes(open.id)) ?? null
  );
});

/** What to use at the site of the open clip; null where nothing is known, or too little to tell. */
export const recommendedHere = computed(() =>
  siteHere.value && siteHere.value.tells !== 'too little' ? siteHere.value.recommended : null,
);

let stopping = new AbortController();

/** Asks what to use, in place of what was asked before. */
export async function askWhatToUse(asked: TuneAsked): Promise<void> {
  stopping.abort();
  stopping = new AbortController();
  const { signal: mine } = stopping;
  const notes: string[] = [];
  asking.value = { kind: 'working', phase: 'waiting until what you marked is on disk', share: null };
  try {
    await onDisk(asked.clips);
    if (mine.aborted) return;
    const of = groundOf(asked.clips);
    asking.value = { kind: 'working', phase: 'asking', share: null };
    const answered = await askLong<Answered>('api/tune', {
      body: asked,
      signal: mine,
      onPhase: (phase) => {
        asking.value = { kind: 'working', phase, share: null };
      },
      onProgress: (done, total) => {
        const { phase } = asking.value.kind === 'working' ? asking.value : { phase: '' };
        asking.value = { kind: 'working', phase, share: done / total };
      },
      onWarning: (line) => notes.push(line),
    });
    if (mine.aborted) return;
    batch(() => {
      lastAnswer.value = answered;
      restsOn.value = of;
    });
    asking.value = { kind: 'answered', answered, notes };
  } catch (error) {
    if (!mine.aborted) asking.value = { kind: 'refused', why: (error as Error).message };
  }
}

/** Stops it, on the server too. */
export function stopAsking(): void {
  stopping.abort();
  asking.value = { kind: 'stopped' };
}

/** What the owner says they want, as it stands in the form. */
export interface Wish {
  kind: 'worth' | 'photos';
  worth: number;
  photosPerDay: number;
  hoursOut: number;
  /** A probability; null: on average is enough. */
  sure: number | null;
}

export const wish = signal<Wish>({ kind: 'worth', worth: 10, photosPerDay: 50, hoursOut: 16, sure: null });

export function wantedOf({ kind, worth, photosPerDay, hoursOut, sure }: Wish): Wanted {
  if (kind === 'worth') return { worth };
  return { photosPerDay, hoursOut, ...(sure !== null && { sure }) };
}

/** Writes the answer, or a part of it, into the opened folder. @throws Refused */
export async function saveAnswer(id: string, save: AnswerSave): Promise<Saved> {
  const saved = await askLong<Saved>(`api/answers/${encodeURIComponent(id)}/save`, { body: save });
  await loadWorkspace();
  return saved;
}

/** Writes settings under a name into the opened folder. @throws Refused */
export async function saveSettings(name: string, settings: SettingsFile, replace: boolean): Promise<Saved> {
  const saved = await ask<Saved>('api/settings', { method: 'POST', body: { name, settings, replace } });
  await loadWorkspace();
  return saved;
}
