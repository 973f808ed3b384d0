import { computed, effect, signal } from '@preact/signals';
import { Problem } from '../../../base/problem.js';
import type { Camera } from '../../../camera/description.js';
import { middleOf } from '../../../camera/dials.js';
import { resolveSettings, type Settings, type SettingsFile } from '../../../camera/settings.js';
import type { Polygon } from '../../../engine/mask.js';
import { engine } from '../worker/bridge.js';
import { isStale, recommendedHere } from './answer.js';
import { same } from './entries.js';
import { evidenceUnder } from './evidence.js';
import { labels } from './labels.js';
import { maskNow } from './mask-taken.js';
import { followed, ground, groundOf, isHeld } from './replays.js';
import { workspace } from './workspace.js';

/** Where the settings come from that the dials are held against. */
export type KeptFrom =
  | { kind: 'middle' }
  /** The dials as they stood when they were kept. */
  | { kind: 'dials'; file: SettingsFile }
  | { kind: 'file'; name: string }
  | { kind: 'recommended' };

export const keptFrom = signal<KeptFrom>({ kind: 'middle' });

/** What the dials are held against. */
export interface Kept {
  name: string;
  /** Null where they cannot be tried here. */
  settings: (Settings & { mask?: Polygon[] }) | null;
  /** One line on what should be known of them; null where there is nothing. */
  note: string | null;
}

export const kept = computed<Kept | null>(() => {
  const camera = workspace.value?.camera;
  return camera ? keptOf(keptFrom.value, camera) : null;
});

const keptSettings = computed(() => kept.value?.settings ?? null);

/** The mask that they are under where it is another than that of the dials, and is read for itself; null where it is not. */
const keptMask = computed(() => {
  const settings = keptSettings.value;
  const mask = settings && (settings.mask ?? labels.value.mask ?? []);
  return mask && !same(mask, maskNow.value) ? mask : null;
});

const keptEvidence = evidenceUnder('kept', keptMask);
const ownGround = groundOf('kept', keptEvidence);
effect(() => {
  // A day takes up to 177 MB: what is of no use any more goes.
  if (keptMask.value === null) void engine().drop('kept');
});

/** What they are tried on. */
const keptGround = computed(() => (keptMask.value === null ? ground.value : ownGround.value));

/** What they do on the open clip; null while it is not known, or cannot be. */
export const keptReplayed = followed(keptSettings, keptGround);

/** How far reading the clip under their own mask is; null where that is not going on. */
export const keptReading = computed(() =>
  keptEvidence.value.kind === 'reading' ? keptEvidence.value.share : null,
);

function keptOf(from: KeptFrom, camera: Camera): Kept {
  switch (from.kind) {
    case 'middle':
      return ofFile('the dials at their middle', { version: 1, controls: middleOf(camera.controls) }, camera);
    case 'dials':
      return ofFile('the dials as you kept them', from.file, camera);
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
    const { warnings, leftOut: _, ...settings } = resolveSettings(file, camera, name);
    const on = ground.value;
    if (on && !isHeld(on, settings)) {
      const text = `Its threshold of ${settings.threshold} is at no position of the dial, so it cannot be tried here; perchmark replay can.`;
      return nothing(name, text);
    }
    return { name, settings, note: warnings[0] ?? null };
  } catch (error) {
    if (error instanceof Problem) return nothing(name, error.message);
    throw error;
  }
}

function nothing(name: string, note: string): Kept {
  return { name, settings: null, note };
}
