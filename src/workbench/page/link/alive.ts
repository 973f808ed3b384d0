import { batch, signal } from '@preact/signals';
import type { Alive, ProblemTold } from '../../protocol.js';

/**
 * Which start of the program answered last; null until one has. Another than before: it was started again, whether or not
 * anybody saw it gone.
 */
export const started = signal<string | null>(null);

/**
 * Whether the program behind the page answers: here; busy, where it is there and takes its time; ended; back, for a moment after it was gone; moved,
 * where it was started again and has another address now.
 */
export type Presence = 'here' | 'busy' | 'ended' | 'back' | 'moved';

export const presence = signal<Presence>('here');

/** While all is well. */
const EVERY_MS = 10_000;
/** While it is gone: at first, and at most. */
const SOON_MS = 1000;
const LATE_MS = 15_000;
/** An answer takes a few milliseconds; a machine that is at work on something heavy takes longer. */
const PATIENCE_MS = 8000;
const BACK_MS = 6000;

let wait = EVERY_MS;
let timer: number | undefined;
let asking = false;

/** Asks from time to time whether the program is still there; not while nobody sees the page. */
export function watchOver(): void {
  document.addEventListener('visibilitychange', lookNow);
  window.addEventListener('online', lookNow);
  lookNow();
}

/** Asks at once: somebody has come back to the page, or something else had no answer. */
export function lookNow(): void {
  window.clearTimeout(timer);
  if (!asking && !document.hidden) void look();
}

async function look(): Promise<void> {
  asking = true;
  const before = presence.value;
  const found = await ask();
  asking = false;
  const isGone = found === 'ended' || found === 'moved' || found === 'busy';
  batch(() => {
    if (isGone) {
      presence.value = found;
      return;
    }
    started.value = found.started;
    if (before === 'ended' || before === 'moved') presence.value = 'back';
    else if (before === 'busy') presence.value = 'here';
  });
  wait = isGone ? Math.min(LATE_MS, before === found ? 2 * wait : SOON_MS) : EVERY_MS;
  timer = window.setTimeout(
    () => {
      if (presence.value === 'back') presence.value = 'here';
      lookNow();
    },
    presence.value === 'back' ? BACK_MS : wait,
  );
}

async function ask(): Promise<Alive | 'busy' | 'ended' | 'moved'> {
  try {
    const response = await fetch('api/alive', { signal: AbortSignal.timeout(PATIENCE_MS) });
    const told = (await response.json()) as Alive | ProblemTold;
    // What listens there now knows nothing of this page's secret.
    return 'started' in told ? told : 'moved';
  } catch (error) {
    // Where nothing listens any more that is said at once: whoever only does not answer is there.
    return (error as Error).name === 'TimeoutError' ? 'busy' : 'ended';
  }
}
