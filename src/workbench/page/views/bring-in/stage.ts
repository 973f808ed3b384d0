import { signal } from '@preact/signals';
import { NOT_SAID, saidThen } from '../../parts/then.js';
import { begin } from '../../state/return.js';
import { loadWorkspace, workspace } from '../../state/workspace.js';
import { beginningOf, type Chosen, chosenFrom, freeName, tellTimes } from './chosen.js';
import { bringIn } from './send.js';

/** What was chosen and can be brought in. */
export type Recording = Exclude<Chosen, { kind: 'nothing' }>;

/** Where this view is: nothing chosen, a recording to be described, on its way, or a clip. */
export type Stage =
  | { kind: 'choose'; why: string | null }
  | {
      kind: 'describe';
      chosen: Recording;
      isTimed: boolean;
      /** When it began by its name or its first picture, of no zone; '' where neither tells. */
      began: string;
      why: string | null;
    }
  | { kind: 'going'; name: string; what: string; share: number | null }
  | { kind: 'made'; clip: string; frames: number; seconds: number; notes: string[] };

export const stage = signal<Stage>({ kind: 'choose', why: null });
export const form = signal({ name: '', site: '', timed: true, rate: '5', recorded: NOT_SAID });
let stopping = new AbortController();

/** Names of the clips that are there. */
export function taken(): string[] {
  return workspace.value?.clips.map(({ name }) => name) ?? [];
}

/** Takes what was chosen or dropped, to be described. */
export async function take(files: readonly File[], folder: string): Promise<void> {
  const chosen = chosenFrom(files, folder);
  if (chosen.kind === 'nothing') {
    stage.value = { kind: 'choose', why: chosen.why };
    return;
  }
  const timed = chosen.kind === 'video' || (await tellTimes(chosen.files).catch(() => true));
  // Where it hung may be the same, when it was is another.
  const recorded = { ...form.value.recorded, began: '', wind: '', rain: '', light: '' };
  form.value = { ...form.value, name: freeName(chosen.name, taken()), timed, recorded };
  const began = await beginningOf(chosen.files).catch(() => '');
  stage.value = { kind: 'describe', chosen, isTimed: timed, began, why: null };
}

export function stop(): void {
  stopping.abort();
}

/** Back to where one chooses. */
export function again(): void {
  stage.value = { kind: 'choose', why: null };
}

/** Sends what was chosen, and has a clip made of it. */
export async function go(chosen: Recording): Promise<void> {
  const { name, site, timed, rate, recorded } = form.value;
  const { isTimed, began } = stage.value.kind === 'describe' ? stage.value : { isTimed: false, began: '' };
  stopping = new AbortController();
  const { signal: mine } = stopping;
  const notes: string[] = [];
  let what = 'sending';
  const show = (share: number | null) => {
    stage.value = { kind: 'going', name, what, share };
  };
  show(0);
  try {
    const made = await bringIn(
      chosen.files,
      {
        name: name.trim(),
        video: chosen.kind === 'video',
        ...(site.trim() !== '' && { site: site.trim() }),
        ...(!timed && { rate: Number(rate) }),
        ...saidThen(recorded),
      },
      mine,
      (sent) => show(chosen.bytes === 0 ? null : sent / chosen.bytes),
      {
        onPhase: (phase) => {
          what = phase;
          show(null);
        },
        onProgress: (done, total) => show(done / total),
        onWarning: (line) => notes.push(line),
      },
    );
    // Where no clip is open yet, this one is from now on.
    await begin();
    stage.value = { kind: 'made', ...made, notes };
  } catch (error) {
    stage.value = {
      kind: 'describe',
      chosen,
      isTimed,
      began,
      why: mine.aborted ? await ofStopping(name.trim()) : told(error),
    };
  }
}

/** What was stopped may have been done before: the folder says. */
async function ofStopping(name: string): Promise<string> {
  await loadWorkspace();
  return taken().includes(name)
    ? `It was finished before it could be stopped: ${name} is among the clips.`
    : 'Stopped; nothing of it was kept.';
}

function told(error: unknown): string {
  return (error as Error).message;
}
