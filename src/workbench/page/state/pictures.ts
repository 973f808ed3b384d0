import { effect, signal } from '@preact/signals';
import type { ClipOpened } from '../../protocol.js';
import { pictureAddress } from '../link/pictures.js';
import { clip, frame } from './clip.js';
import { playing, stride } from './play.js';

/** Pictures that are kept, some 80 MB of them. */
const MOST = 64;
/** How many are asked for at a time. */
const AT_ONCE = 4;
/** Pictures got before they are wanted, in the way one goes, and the other way. */
const AHEAD = 16;
const BEHIND = 6;

const kept = new Map<string, ImageBitmap>();
const asked = new Set<string>();
/** What could not be read; asked for again when the owner goes there, not at once without end. */
const failed = new Set<string>();
let wanted: number[] = [];

/** Counts the pictures that came, so that whoever waits for one looks again. */
export const arrived = signal(0);

/** A frame's picture where it is there already. */
export function pictureOf(id: string, at: number): ImageBitmap | null {
  return kept.get(keyOf(id, at)) ?? null;
}

/** Whether there is nothing to wait for: the picture has come, or will not. */
export function isSettled(id: string, at: number): boolean {
  return kept.has(keyOf(id, at)) || failed.has(keyOf(id, at));
}

function keyOf(id: string, at: number): string {
  return `${at} ${id}`;
}

let before = 0;
/** The frame that is shown comes first, then those ahead, so that a step is there before it is made. */
effect(() => {
  const open = clip.value;
  const now = frame.value;
  if (!open) return;
  const way = now >= before ? 1 : -1;
  before = now;
  const by = playing.value ? stride.value : 1;
  const last = open.times.length - 1;
  // Those that playing shows: see `paced`.
  const from = playing.value ? now - (now % by) : now;
  const ahead = Array.from({ length: AHEAD }, (_, i) => Math.min(last, from + way * by * (i + 1)));
  const behind = Array.from({ length: BEHIND }, (_, i) => now - way * (i + 1));
  // Of other clips nothing is kept.
  for (const key of failed) if (!key.endsWith(` ${open.id}`)) failed.delete(key);
  failed.delete(keyOf(open.id, now));
  wanted = [now, ...ahead, ...behind].filter((at) => at >= 0 && at <= last);
  fetchMore();
});

/** What could not be got is asked for again. */
export function tryPicturesAgain(): void {
  failed.clear();
  fetchMore();
}

function fetchMore(): void {
  const open = clip.peek();
  if (!open) return;
  const { id } = open;
  for (const at of wanted) {
    if (asked.size >= AT_ONCE) return;
    const key = keyOf(id, at);
    if (kept.has(key) || asked.has(key) || failed.has(key)) continue;
    asked.add(key);
    void fetchOne(open, at).finally(() => {
      asked.delete(key);
      fetchMore();
    });
  }
}

/** Null where there is none. @throws whatever a picture that cannot be shown is thrown for */
async function pictureAt(open: ClipOpened, at: number): Promise<ImageBitmap | null> {
  const response = await fetch(pictureAddress(open, at));
  return response.ok ? createImageBitmap(await response.blob()) : null;
}

async function fetchOne(open: ClipOpened, at: number): Promise<void> {
  const { id } = open;
  const picture = await pictureAt(open, at).catch(() => null);
  if (!picture) {
    failed.add(keyOf(id, at));
    return;
  }
  kept.set(keyOf(id, at), picture);
  for (const [key, old] of kept) {
    if (kept.size <= MOST) break;
    if (wanted.some((one) => keyOf(id, one) === key)) continue;
    kept.delete(key);
    old.close();
  }
  arrived.value++;
}
