import { signal } from '@preact/signals';
import type { AboutSaved, AboutState } from '../../about-on-disk.js';
import { addressOf } from '../link/addresses.js';
import { ask, Refused } from '../link/api.js';
import { saidThen, type Then, thenOf } from '../parts/then.js';
import { clip, openClip } from './clip.js';
import { show } from './shown.js';
import { loadWorkspace } from './workspace.js';

/** What is said of the open clip, and what is being typed of it. */
export interface AboutClip {
  clip: string;
  state: AboutState;
  site: string;
  recorded: Then;
  /** What came of saving it. */
  said: string | null;
}

export const about = signal<AboutClip | null>(null);
/** Whether somebody came from elsewhere on the page to say it. */
export const isAsked = signal(false);

/** Goes to where it is said of a clip when and where it was recorded. */
export function sayOf(id: string): void {
  isAsked.value = true;
  void openClip(id);
  show('label');
}

/** Asks what is said of a clip, unless it is in hand already. */
export async function loadAbout(id: string): Promise<void> {
  if (about.value?.clip === id) return;
  const state = await ask<AboutState>(`${addressOf(id)}/about`).catch(() => null);
  // What is wrong with a clip is told where it is opened.
  if (state && clip.value?.id === id) about.value = { clip: id, ...fresh(state), said: null };
}

function fresh(state: AboutState): Pick<AboutClip, 'state' | 'site' | 'recorded'> {
  return { state, site: state.about.site ?? '', recorded: thenOf(state.about) };
}

export function setAbout(part: Partial<Pick<AboutClip, 'site' | 'recorded'>>): void {
  if (about.value) about.value = { ...about.value, ...part, said: null };
}

/** Writes it into clip.json, unless somebody else changed that meanwhile. */
export async function saveAbout(): Promise<void> {
  const now = about.value;
  if (!now) return;
  const { clip: id, state, site, recorded } = now;
  const tell = (part: Partial<AboutClip>) => {
    if (about.value?.clip === id) about.value = { ...about.value, ...part };
  };
  try {
    const said = { ...(site.trim() !== '' && { site: site.trim() }), ...saidThen(recorded, state.about) };
    const { otherSpot, ...saved } = await ask<AboutSaved>(`${addressOf(id)}/about`, {
      method: 'PUT',
      body: { about: said, base: state.revision },
    });
    const typed = about.value;
    const then = fresh(saved);
    // What was typed since stays.
    const changed = typed?.clip === id && (typed.site !== site || typed.recorded !== recorded);
    tell({
      state: saved,
      ...(typed?.site === site && { site: then.site }),
      ...(typed?.recorded === recorded && { recorded: then.recorded }),
      said: [
        'Saved in clip.json.',
        ...(otherSpot === null ? [] : [otherSpot]),
        ...(changed ? ['What you typed meanwhile is not: press Save again.'] : []),
      ].join(' '),
    });
    if (clip.value?.id === id)
      clip.value = { ...clip.value, site: saved.project ?? saved.about.site ?? null };
    await loadWorkspace();
  } catch (error) {
    const there = error instanceof Refused ? (error as Refused & { answer?: AboutState }).answer : undefined;
    if (there?.revision === undefined) tell({ said: (error as Error).message });
    else {
      tell({
        state: there,
        said: 'Somebody changed clip.json meanwhile, so it was not written. Press Save again to write this over it.',
      });
    }
  }
}
