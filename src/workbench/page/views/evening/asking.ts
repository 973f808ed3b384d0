import { signal } from '@preact/signals';
import type { Saved } from '../../../answer-protocol.js';
import type { EveningAsked, EveningListed, EveningTold, PromiseFound } from '../../../evening-protocol.js';
import { askLong } from '../../link/api.js';
import type { EveningSession } from './session.js';

/** What came of asking; `of` says by which marks, and which evening. */
export type Told =
  | { kind: 'none' }
  | { kind: 'working'; phase: string; share: number | null }
  | { kind: 'refused'; why: string }
  | { kind: 'told'; of: string; asked: string; told: EveningTold };

export const told = signal<Told>({ kind: 'none' });
/** As it stands in the form; the promise by its place in the list, '' for none. */
export const form = signal({ from: '', until: '', clock: '', promised: '' });
/** The evening that it is about. */
let about: Pick<EveningSession, 'id'> | null = null;

let stopping = new AbortController();

/** The marks by which something was told, so that it is seen when they are others. */
export function marksOf(session: EveningSession): string {
  return `${session.id} ${session.seen.map(({ value }) => value?.[0] ?? '-').join('')}`;
}

export function keyOf({ file, site }: Pick<PromiseFound, 'file' | 'site'>): string {
  return JSON.stringify([file, site]);
}

/** Makes the form one of this evening: what was typed for another is gone, what was typed for this one stays. */
export function beginForm(session: Pick<EveningSession, 'id'>, promised: PromiseFound | null): void {
  if (about === session) return;
  const typed = about?.id === session.id ? form.value : { from: '', until: '', clock: '' };
  about = session;
  form.value = { ...typed, promised: promised ? keyOf(promised) : '' };
}

/**
 * What an evening is held against until somebody chooses: what the project says, else the latest of the same spot, of plans
 * only those of these days. Of a spot that nobody names it is taken to be only where there are promises of no other.
 * @param promises the latest first
 * @param times of its photos, in seconds by the camera's clock
 */
export function promiseOf(
  entry: Pick<EveningListed, 'promised' | 'site'> | undefined,
  promises: readonly PromiseFound[],
  times: readonly number[],
): PromiseFound | null {
  const site = entry?.site ?? null;
  const ofSite = promises.filter((one) => site === null || one.site === site);
  const own = ofSite.filter(({ file }) => file === entry?.promised);
  const inTime = ofSite.filter(
    ({ hours }) =>
      hours === null || times.some((time) => time > hours.from - DAY && time < hours.until + DAY),
  );
  return ofOneSite(own) ?? ofOneSite(inTime);
}

/** Seconds: no clock is farther from UTC. */
const DAY = 86_400;

function ofOneSite(promises: readonly PromiseFound[]): PromiseFound | null {
  const first = promises[0];
  return first && promises.every(({ site }) => site === first.site) ? first : null;
}

/** Asks what came of the evening; once all that was marked is on disk. */
export async function askWhatCame(session: EveningSession): Promise<void> {
  stopping.abort();
  stopping = new AbortController();
  const { signal: mine } = stopping;
  const { promised, ...typed } = form.value;
  const [file, site] = promised === '' ? [] : (JSON.parse(promised) as [string, string | null]);
  const body: EveningAsked = {
    ...typed,
    promised: file === undefined ? null : { file, site: site ?? null },
  };
  const asked = JSON.stringify(form.value);
  const of = marksOf(session);
  told.value = { kind: 'working', phase: 'waiting until what you marked is on disk', share: null };
  try {
    await session.onDisk();
    if (mine.aborted) return;
    const found = await askLong<EveningTold>(`api/evenings/${encodeURIComponent(session.id)}/told`, {
      body,
      signal: mine,
      onPhase: (phase) => {
        told.value = { kind: 'working', phase, share: null };
      },
      onProgress: (done, total) => {
        const { phase } = told.value.kind === 'working' ? told.value : { phase: '' };
        told.value = { kind: 'working', phase, share: done / total };
      },
    });
    if (!mine.aborted) told.value = { kind: 'told', of, asked, told: found };
  } catch (error) {
    if (!mine.aborted) told.value = { kind: 'refused', why: (error as Error).message };
  }
}

export function stopAsking(): void {
  stopping.abort();
  told.value = { kind: 'none' };
}

/** Writes the report of what was told last into the opened folder. @throws Refused */
export function saveReport({ key }: EveningTold, replace: boolean): Promise<Saved> {
  return askLong<Saved>(`api/evenings-told/${encodeURIComponent(key)}/report`, { body: { replace } });
}
