import { computed, signal } from '@preact/signals';
import { Problem } from '../../../base/problem.js';
import type { Camera } from '../../../camera/description.js';
import { middleOf, positionOf, positions } from '../../../camera/dials.js';
import {
  type ResolvedSettings,
  resolveSettings,
  type Settings,
  type SettingsFile,
} from '../../../camera/settings.js';
import type { Polygon } from '../../../engine/mask.js';
import { clip } from './clip.js';
import { maskTaken, ownMask } from './mask-taken.js';
import { followed } from './replays.js';
import { workspace } from './workspace.js';

/** Where each dial stands, by its name; those that nobody turned stand at their middle, the lower of two. */
export const turned = signal<Record<string, number>>({});

export const controls = computed<Record<string, number>>(() => {
  const camera = workspace.value?.camera;
  return camera ? { ...middleOf(camera.controls), ...placed(camera, turned.value) } : {};
});

const resolved = computed(() => {
  const camera = workspace.value?.camera;
  return camera ? resolvedOr(camera, controls.value) : null;
});

/** The same as the engine takes it; null until the camera is known, and where its dials leave something open. */
export const settings = computed<ResolvedSettings | null>(() =>
  typeof resolved.value === 'string' ? null : resolved.value,
);

/** Why the dials are no settings, one line; null where they are. */
export const noSettings = computed(() => (typeof resolved.value === 'string' ? resolved.value : null));

/** What the dials as they stand do on the open clip; null while it is not known. */
export const replayed = followed(settings);

/** Turns some dials; the others stay. */
export function turn(to: Record<string, number>): void {
  turned.value = { ...controls.value, ...to };
}

/** The same as a settings file has it, with its own mask where there is one. */
export const settingsFileNow = computed<SettingsFile>(() => ({
  version: 1,
  controls: controls.value,
  ...(ownMask.value && { mask: ownMask.value }),
}));

/**
 * Turns the dials to engine values, and takes their mask over, or none.
 * @param site that they are for
 * @returns the names of dials that have no position for theirs, and stayed
 */
export function turnTo(to: Settings & { mask?: Polygon[] }, site = clip.value?.site ?? null): string[] {
  maskTaken.value = to.mask ? { site, mask: to.mask } : null;
  const dials = Object.entries(workspace.value?.camera.controls ?? {});
  const found = dials.map(([name, dial]) => [name, positionOf(dial, to[dial.sets])] as const);
  turn(
    Object.fromEntries(
      found.flatMap(([name, position]) => (position === undefined ? [] : [[name, position]])),
    ),
  );
  return found.flatMap(([name, position]) => (position === undefined ? [name] : []));
}

/** Only what is a dial of the camera at a position that it has. */
function placed(camera: Camera, given: Record<string, number>): Record<string, number> {
  const dials = Object.entries(camera.controls).flatMap(([name, dial]) => {
    const at = Object.hasOwn(given, name) ? given[name] : undefined;
    return at !== undefined && positions(dial).includes(at) ? [[name, at]] : [];
  });
  return Object.fromEntries(dials);
}

function resolvedOr(camera: Camera, at: Record<string, number>): ResolvedSettings | string {
  try {
    return resolveSettings({ version: 1, controls: at }, camera, 'the dials');
  } catch (error) {
    if (error instanceof Problem) return error.message;
    throw error;
  }
}
