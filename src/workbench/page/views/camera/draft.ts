import { computed, signal } from '@preact/signals';
import type { Camera } from '../../../../camera/description.js';
import { checkDials } from '../../../../camera/dials.js';
import { checkMemory } from '../../../../camera/memory.js';
import type { CameraState } from '../../../routes/camera.js';
import { ask, Refused } from '../../link/api.js';
import { trouble } from '../../state/trouble.js';
import { loadWorkspace } from '../../state/workspace.js';

/** The camera as it is being described, and what it was when that began; null until it is known. */
export const draft = signal<Camera | null>(null);
const kept = signal<CameraState | null>(null);

/** Whether anything was changed since it was kept. */
export const changed = computed(
  () => draft.value !== null && JSON.stringify(draft.value) !== JSON.stringify(kept.value?.camera),
);

/** Whether camera.json is there. */
export const isKept = computed(() => kept.value !== null && kept.value.revision !== '');

/** What came of keeping it: said beside the button. */
export const outcome = signal<string | null>(null);

/** What does not fit together, one line; null where all does. */
export const misfit = computed(() => {
  const camera = draft.value;
  if (!camera) return null;
  try {
    checkMemory(camera, 'the camera');
    checkDials(camera.controls, camera.analysis.width * camera.analysis.height, 'the camera');
    return null;
  } catch (error) {
    return (error as Error).message.replace(/^the camera: /, '');
  }
});

/** Starts from what is kept. */
export async function load(): Promise<void> {
  try {
    kept.value = await ask<CameraState>('api/camera');
    draft.value = kept.value.camera;
  } catch (error) {
    trouble.value = (error as Error).message;
  }
}

/** Changes the draft. */
export function set(part: Partial<Camera>): void {
  outcome.value = null;
  if (draft.value) draft.value = { ...draft.value, ...part };
}

export function giveUp(): void {
  draft.value = kept.value?.camera ?? null;
}

/** Writes camera.json, unless somebody else did meanwhile. */
export async function keep(): Promise<void> {
  if (!draft.value || !kept.value) return;
  try {
    kept.value = await ask<CameraState>('api/camera', {
      method: 'PUT',
      body: { camera: draft.value, base: kept.value.revision },
    });
    draft.value = kept.value.camera;
    outcome.value = 'Kept in camera.json.';
    await loadWorkspace();
  } catch (error) {
    const there = error instanceof Refused ? (error as Refused & { answer?: CameraState }).answer : undefined;
    if (there?.camera && there.revision !== undefined) {
      kept.value = { ...kept.value, revision: there.revision };
      outcome.value =
        'Somebody changed camera.json meanwhile, so it was not written. Press Keep again to write this over it, or leave the page to have that one.';
      return;
    }
    outcome.value = (error as Error).message;
  }
}
