import { computed, effect, signal } from '@preact/signals';
import { positions } from '../../../camera/dials.js';
import { resolveSettings } from '../../../camera/settings.js';
import { engine } from '../worker/bridge.js';
import type { Replayed } from '../worker/replay.js';
import { clip } from './clip.js';
import { evidence } from './evidence.js';
import { labels } from './labels.js';
import { workspace } from './workspace.js';

/** Where each dial stands, by its name; those that nobody turned stand at their middle, the lower of two. */
export const turned = signal<Record<string, number>>({});

export const controls = computed<Record<string, number>>(() => {
  const dials = Object.entries(workspace.value?.camera.controls ?? {});
  return Object.fromEntries(
    dials.map(([name, dial]) => {
      const all = positions(dial);
      const at = turned.value[name];
      return [name, at !== undefined && all.includes(at) ? at : all[(all.length - 1) >> 1]!];
    }),
  );
});

/** The same as the engine takes it; null until the camera is known. */
export const settings = computed(() => {
  const camera = workspace.value?.camera;
  return camera ? resolveSettings({ version: 1, controls: controls.value }, camera, 'the dials') : null;
});

/** What the dials as they stand do on the open clip; null while it is not known. */
export const replayed = signal<Replayed | null>(null);

let asked = 0;
effect(() => {
  const [open, camera, now] = [clip.value, workspace.value?.camera, settings.value];
  const said = labels.value;
  const mine = ++asked;
  if (!open || !camera || !now || evidence.value.kind !== 'held' || evidence.value.clip !== open.id) {
    replayed.value = null;
    return;
  }
  void engine()
    .replay(camera, now, said, open.seconds)
    .then((result) => {
      if (mine === asked) replayed.value = result;
    });
});
