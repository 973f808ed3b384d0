import { effect } from '@preact/signals';
import { presence, started } from '../link/alive.js';
import { NO_ANSWER } from '../link/api.js';
import { clipInAddress } from './address.js';
import { clip, openClip, opening } from './clip.js';
import { readAgain } from './evidence.js';
import { session } from './labels.js';
import { tryPicturesAgain } from './pictures.js';
import { show, shownId } from './shown.js';
import { trouble } from './trouble.js';
import { loadWorkspace, workspace } from './workspace.js';

/** What is in the folder, and the clip that the address names, or else the first, where none is open; where there is none to open, the way to bring one in. */
export async function begin(): Promise<void> {
  await loadWorkspace();
  if (clip.value || opening.value) return;
  const clips = workspace.value?.clips.filter(({ problem }) => problem === null) ?? [];
  const first = clips.find(({ id }) => id === clipInAddress()) ?? clips[0];
  if (first) void openClip(first.id);
  // Unless the owner went elsewhere meanwhile.
  else if (workspace.value && shownId.value === 'label') show('bring-in');
}

/**
 * Goes on by itself when the program is there again, or was started anew: what failed for want of an answer is asked for
 * again. Labels that are not on disk yet are sent by their own saver.
 */
export function watchForReturn(): void {
  let before = { started: started.peek(), presence: presence.peek() };
  effect(() => {
    const now = { started: started.value, presence: presence.value };
    const isAnother = before.started !== null && now.started !== before.started;
    const isBack = now.presence === 'back' && before.presence !== 'back';
    before = now;
    if (isAnother || isBack) void goOn();
  });
}

async function goOn(): Promise<void> {
  if (trouble.peek() === NO_ANSWER) trouble.value = null;
  tryPicturesAgain();
  readAgain();
  await begin();
  await session.peek()?.look();
}
