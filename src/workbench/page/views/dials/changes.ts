import { effect, signal } from '@preact/signals';
import { sampleFrames } from '../../../../engine/sample.js';
import { levelOf } from '../../../../engine/triggers.js';
import { addressOf } from '../../link/addresses.js';
import { askBytes } from '../../link/api.js';
import { frame } from '../../state/clip.js';
import { type Ground, ground } from '../../state/replays.js';
import { settings } from '../../state/settings.js';
import { engine } from '../../worker/bridge.js';
import { LastFew } from '../../worker/last-few.js';
import type { Marked } from '../../worker/marks.js';
import { NewestOnly } from '../../worker/newest.js';
import { lastUpTo } from './last-up-to.js';

/** What changed in the frame that is shown, at the threshold of the dials. */
export interface Changes {
  /** Of the clip's frames, the one that the camera looked at: the one shown, or the last before it. */
  frame: number;
  marked: Marked;
}

export const changes = signal<Changes | null>(null);

/** Whether to mark it on the picture. */
export const marking = signal(true);

/** Pixels that a marked picture is wide at least and at most: lines are to be seen on a small one, and drawn soon on a large. */
const [NARROWEST, WIDEST] = [640, 960];
/** Frames whose differences are kept, some 80 kB each. */
const KEPT = 32;

interface Asked {
  on: Ground;
  place: number;
  at: number;
  level: number;
}

let known: { on: Ground | null; frames: Uint32Array; bytes: LastFew<ArrayBuffer> } = {
  on: null,
  frames: new Uint32Array(0),
  bytes: new LastFew(KEPT),
};

const asking = new NewestOnly(async ({ on, place, at, level }: Asked): Promise<Changes> => {
  const key = String(place);
  const bytes = known.bytes.get(key) ?? (await askBytes(`${addressOf(on.open.id)}/differences/${place}`));
  if (known.on === on) known.bytes.keep(key, bytes);
  const scale = Math.min(WIDEST, Math.max(NARROWEST, on.open.width)) / on.open.width;
  const size = { width: Math.round(on.open.width * scale), height: Math.round(on.open.height * scale) };
  return { frame: at, marked: await engine().marks(bytes, on.camera, on.mask, level, size) };
});

/**
 * Follows the frame and the dials, for as long as somebody looks.
 * @returns call it when nobody does any more
 */
export function followChanges(): () => void {
  return effect(() => {
    const [on, now, shown] = [ground.value, settings.value, frame.value];
    if (!on || !now || !marking.value) {
      changes.value = null;
      return;
    }
    if (known.on !== on) {
      const { times, seconds, rate } = on.open;
      const frames = sampleFrames(times, seconds, rate, on.camera.analysis.rate);
      known = { on, frames, bytes: new LastFew(KEPT) };
    }
    const place = lastUpTo(known.frames, shown);
    const at = known.frames[place] ?? 0;
    asking.answer({ on, place, at, level: levelOf(now.threshold) }).then(
      (told) => {
        if (told && ground.peek() === on && marking.peek()) changes.value = told;
      },
      () => {
        // The picture is shown without marks; whether the server answers is told elsewhere.
        changes.value = null;
      },
    );
  });
}
