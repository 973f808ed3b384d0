import { computed, signal } from '@preact/signals';
import { Problem } from '../../../base/problem.js';
import type { Camera } from '../../../camera/description.js';
import { resolveSettings, type Settings, type SettingsFile } from '../../../camera/settings.js';
import { isStale, recommendedHere } from './answer.js';
import { followed, ground, isHeld } from './replays.js';
import { middleOf } from './settings.js';
import { workspace } from './workspace.js';

/** Where the settings come from that the dials are held against. */
export type KeptFrom =
  | { kind: 'middle' }
  /** The dials as they stood when they were kept. */
  | { kind: 'dials'; controls: Record<string, number> }
  | { kind: 'file'; name: string }
  | { kind: 'recommended' };

export const keptFrom = signal<KeptFrom>({ kind: 'middle' });

/** What the dials are held against. */
export interface Kept {
  name: string;
  /** Null where they cannot be tried here. */
  settings: Settings | null;
  /** One line on what should be known of them; null where there is nothing. */
  note: string | null;
}

export const kept = computed<Kept | null>(() => {
  const camera = workspace.value?.camera;
  return camera ? keptOf(keptFrom.value, camera) : null;
});

const keptSettings = computed(() => kept.value?.settings ?? null);

/** What they do on the open clip; null while it is not known, or cannot be. */
export const keptReplayed = followed(keptSettings);

function keptOf(from: KeptFrom, camera: Camera): Kept {
  switch (from.kind) {
    case 'middle':
      return ofFile('the dials at their middle', { version: 1, controls: middleOf(camera) }, camera);
    case 'dials':
      return ofFile('the dials as you kept them', { version: 1, controls: from.controls }, camera);
    case 'recommended': {
      const choice = recommendedHere.value;
      if (choice) {
        const found = ofFile('what is recommended', choice.settings, camera);
        const note = 'Worked out before labels or the camera were changed: see Answer.';
        return isStale.value ? { ...found, note: found.note ?? note } : found;
      }
      return nothing('what is recommended', 'Nothing is recommended for this site yet: see Answer.');
    }
    case 'file': {
      const found = workspace.value?.settings.find(({ name }) => name === from.name);
      if (found) return ofFile(`${from.name}.json`, found.settings, camera);
      return nothing(`${from.name}.json`, 'The file is not there any more.');
    }
  }
}

function ofFile(name: string, file: SettingsFile, camera: Camera): Kept {
  try {
    const { mask, warnings, ...settings } = resolveSettings(file, camera, name);
    const on = ground.value;
    if (on && !isHeld(on, settings)) {
      const text = `Its threshold of ${settings.threshold} is at no position of the dial, so it cannot be tried here; perchmark replay can.`;
      return nothing(name, text);
    }
    const masked = mask
      ? 'Its own mask is left out here: clips are read under the mask of their labels.'
      : null;
    return { name, settings, note: masked ?? warnings[0] ?? null };
  } catch (error) {
    if (error instanceof Problem) return nothing(name, error.message);
    throw error;
  }
}

function nothing(name: string, note: string): Kept {
  return { name, settings: null, note };
}
