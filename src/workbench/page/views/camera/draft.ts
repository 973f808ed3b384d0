import { computed, signal } from '@preact/signals';
import type { Camera } from '../../../../camera/description.js';
import type { Controls } from '../../../../camera/dials.js';
import { checkMemory } from '../../../../camera/memory.js';
import type { CameraState } from '../../../routes/camera.js';
import { ask, Refused } from '../../link/api.js';
import { trouble } from '../../state/trouble.js';
import { loadWorkspace } from '../../state/workspace.js';
import { fitted, misfitOf } from './fitted.js';

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
    return misfitOf(camera.controls, pixelsOf(camera));
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

/** Dials as they were described last, whatever the size of the pictures; null: as they are kept. */
let described: Controls | null = null;

/** Changes the draft; dials follow the size of the pictures. */
export function set(part: Partial<Camera>): void {
  outcome.value = null;
  const before = draft.value;
  if (!before) return;
  if (part.controls) described = part.controls;
  const now = { ...before, ...part };
  const isResized = pixelsOf(now) !== pixelsOf(before);
  if (isResized) described ??= before.controls;
  draft.value = isResized && described ? { ...now, controls: fitted(described, pixelsOf(now)) } : now;
}

/** How many pixels it compares. */
export function pixelsOf({ analysis }: Pick<Camera, 'analysis'>): number {
  return analysis.width * analysis.height;
}

export function giveUp(): void {
  described = null;
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
    described = null;
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
