import { effect, signal } from '@preact/signals';
import type { Saved } from '../../../answer-protocol.js';
import type { PlanAsked, Planned, PlanSave } from '../../../plan-protocol.js';
import { ask, askLong } from '../../link/api.js';
import { onDisk } from '../../state/labels.js';
import { type Typed, typedFrom } from './typed.js';

/** How planning stands. */
export type Planning =
  | { kind: 'none' }
  | { kind: 'working'; phase: string; share: number | null }
  | { kind: 'stopped' }
  | { kind: 'refused'; why: string }
  | { kind: 'planned'; planned: Planned; asked: string | null };

export const planning = signal<Planning>({ kind: 'none' });

/** What stands in the form. */
export interface Form {
  /** By its place among the sites; null: that of the open clip. */
  site: number | null;
  typed: Typed;
  /** A forecast from a file, in place of what is typed in. */
  file: { name: string; text: string } | null;
  walk: number;
  from: number;
  until: number;
  recordedOnly: boolean;
}

const KEPT = 'perchmark forecast';

export const form = signal<Form>({
  site: null,
  typed: kept() ?? typedFrom(new Date()),
  file: null,
  walk: 20,
  from: 7,
  until: 21,
  recordedOnly: false,
});

// What was typed in is there again when the page is loaded anew.
effect(() => {
  try {
    localStorage.setItem(KEPT, JSON.stringify(form.value.typed));
  } catch {
    // A browser that keeps nothing.
  }
});

/** What was typed in before, as long as it is of today or later. */
function kept(): Typed | null {
  try {
    const typed = JSON.parse(localStorage.getItem(KEPT) ?? 'null') as Typed | null;
    const isPast = !typed || !(new Date(typed.from).getTime() > Date.now() - 24 * 3_600_000);
    return isPast ? null : typed;
  } catch {
    return null;
  }
}

/** What was planned last, unless something else is at hand. */
export async function loadPlanned(): Promise<void> {
  try {
    const planned = await ask<Planned | null>('api/planned');
    if (planned && planning.value.kind === 'none') planning.value = { kind: 'planned', planned, asked: null };
  } catch (error) {
    if (planning.value.kind === 'none') planning.value = { kind: 'refused', why: (error as Error).message };
  }
}

let stopping = new AbortController();

/** Works out what to use when. */
export async function askPlan(asked: PlanAsked): Promise<void> {
  stopping.abort();
  stopping = new AbortController();
  const { signal: mine } = stopping;
  planning.value = { kind: 'working', phase: 'waiting until what you marked is on disk', share: null };
  try {
    await onDisk(asked.clips);
    if (mine.aborted) return;
    const planned = await askLong<Planned>('api/plan', {
      body: asked,
      signal: mine,
      onPhase: (phase) => {
        planning.value = { kind: 'working', phase, share: null };
      },
      onProgress: (done, total) => {
        const { phase } = planning.value.kind === 'working' ? planning.value : { phase: '' };
        planning.value = { kind: 'working', phase, share: done / total };
      },
    });
    if (!mine.aborted) planning.value = { kind: 'planned', planned, asked: JSON.stringify(asked) };
  } catch (error) {
    if (!mine.aborted) planning.value = { kind: 'refused', why: (error as Error).message };
  }
}

/** Stops it, on the server too. */
export function stopPlanning(): void {
  stopping.abort();
  planning.value = { kind: 'stopped' };
}

/** Writes a part of the plan into the opened folder. @throws Refused */
export function savePlan(id: string, save: PlanSave): Promise<Saved> {
  return ask<Saved>(`api/plans/${encodeURIComponent(id)}/save`, { method: 'POST', body: save });
}
