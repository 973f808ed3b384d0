import { computed, effect, type ReadonlySignal, signal } from '@preact/signals';
import type { Camera } from '../../../camera/description.js';
import { keepsEvidence } from '../../../camera/keeps-evidence.js';
import type { Settings } from '../../../camera/settings.js';
import type { Polygon } from '../../../engine/mask.js';
import { levelOf } from '../../../engine/triggers.js';
import type { Labels } from '../../../score/labels.js';
import { saysNothing } from '../../../score/says-nothing.js';
import type { ClipOpened } from '../../protocol.js';
import { boxedOf } from '../worker/boxed.js';
import { engine } from '../worker/bridge.js';
import type { Slot } from '../worker/held.js';
import { LastFew } from '../worker/last-few.js';
import { NewestOnly } from '../worker/newest.js';
import type { Replayed } from '../worker/replay.js';
import { clip } from './clip.js';
import { type EvidenceState, evidence } from './evidence.js';
import { labels } from './labels.js';
import { luckOf } from './luck.js';
import { trouble } from './trouble.js';
import { workspace } from './workspace.js';

/** Replays that are kept for turning back; one of an hour takes some 100 kB. */
const KEPT = 24;

/** What settings are tried on. */
export interface Ground {
  open: ClipOpened;
  camera: Camera;
  /** Null: nothing was said yet. */
  said: Labels | null;
  levels: readonly number[];
  /** Where the worker holds its evidence, and under which mask that is. */
  slot: Slot;
  mask: readonly Polygon[];
  /** Whether it is told who was caught by luck. */
  tellsLuck: boolean;
  /** What settings did on it, by what they are. */
  known: LastFew<Replayed>;
}

/** The labels; null where they say nothing yet. */
export const said = computed<Labels | null>(() => (saysNothing(labels.value) ? null : labels.value));

/** Null while no evidence of the open clip is held in the slot. */
export function groundOf(slot: Slot, read: ReadonlySignal<EvidenceState>): ReadonlySignal<Ground | null> {
  const luck = luckOf(slot, read);
  return computed(() => {
    const [open, camera, held, now] = [clip.value, workspace.value?.camera, read.value, said.value];
    if (!open || !camera || held.kind !== 'held' || held.clip !== open.id) return null;
    const { levels, mask } = held;
    const tellsLuck = now !== null && luck.value !== null && luck.value === boxedOf(now);
    return { open, camera, said: now, levels, slot, mask, tellsLuck, known: new LastFew(KEPT) };
  });
}

/** What the dials as they stand are tried on. */
export const ground = groundOf('dials', evidence);

/** Why no settings can be tried in the page at all, one line; null where they can. */
export const cannotTry = computed<string | null>(() => {
  const camera = workspace.value?.camera;
  if (!camera || keepsEvidence(camera)) return null;
  return `What the ${camera.name} compares with depends on when it fires (whileBusy: ${camera.reference.whileBusy}), so its dials cannot be tried here; Answer still works, and so does perchmark replay.`;
});

/** What settings do on the open clip, as they change; null while it is not known, or cannot be. */
export function followed(
  settings: ReadonlySignal<Settings | null>,
  tried: ReadonlySignal<Ground | null> = ground,
): ReadonlySignal<Replayed | null> {
  const shown = signal<Replayed | null>(null);
  const asking = new NewestOnly(({ on, now }: { on: Ground; now: Settings }) =>
    engine().replay(on.slot, on.camera, now, on.said, on.open.seconds),
  );
  let asked = 0;
  let told = 0;
  effect(() => {
    const [on, now] = [tried.value, settings.value];
    const mine = ++asked;
    const tell = (result: Replayed | null) => {
      told = mine;
      shown.value = result;
    };
    if (!on || !now || !isHeld(on, now)) return tell(null);
    const { threshold, minimumArea, mostChanged, persistence, cooldown } = now;
    const key = [threshold, minimumArea, mostChanged, persistence, cooldown].join(' ');
    const before = on.known.get(key);
    if (before) return tell(before);
    asking.answer({ on, now }).then(
      (result) => {
        if (!result) return;
        on.known.keep(key, result);
        // While a dial is turned fast each answer is shown that is newer than the last, so that it never seems stuck.
        if (mine > told && tried.peek() === on) tell(result);
      },
      (error: Error) => {
        trouble.value = error.message;
      },
    );
  });
  return shown;
}

/** Evidence is held at the levels that the camera's own dial reaches. */
export function isHeld({ levels }: Pick<Ground, 'levels'>, { threshold }: Settings): boolean {
  return levels.includes(levelOf(threshold));
}
