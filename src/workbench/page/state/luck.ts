import { effect, type ReadonlySignal, signal } from '@preact/signals';
import type { WithinAsked } from '../../routes/within.js';
import { addressOf } from '../link/addresses.js';
import { askBytes } from '../link/api.js';
import { boxedOf } from '../worker/boxed.js';
import { holdWithin } from '../worker/bridge.js';
import type { Slot } from '../worker/held.js';
import { clip } from './clip.js';
import type { EvidenceState } from './evidence.js';
import { labels } from './labels.js';
import { trouble } from './trouble.js';

/** Boxes are dragged: asked is when they have stood still for so long. */
const STILL_MS = 300;

/**
 * Has the worker hold how much changed within the boxes of visits, without which nobody can say who was caught by luck.
 * @returns for which visits and boxes it is held with the evidence of the slot: see `boxedOf`; null: for none
 */
export function luckOf(slot: Slot, evidence: ReadonlySignal<EvidenceState>): ReadonlySignal<string | null> {
  const held = signal<string | null>(null);
  let before: EvidenceState | null = null;
  let stop = new AbortController();
  effect(() => {
    const [on, open, said] = [evidence.value, clip.value, labels.value];
    if (on !== before) held.value = null;
    before = on;
    stop.abort();
    const of = boxedOf(said);
    if (on.kind !== 'held' || open?.id !== on.clip || of === null || held.peek() === of) return;
    stop = new AbortController();
    const { signal: mine } = stop;
    const ask = async () => {
      const body: WithinAsked = { mask: [...on.mask], labels: { version: 1, visits: said.visits } };
      const bytes = await askBytes(`${addressOf(on.clip)}/within`, { method: 'POST', body, signal: mine });
      if (bytes.byteLength === 0 || mine.aborted) return;
      await holdWithin(slot, of, bytes);
      if (!mine.aborted) held.value = of;
    };
    const timer = setTimeout(() => {
      ask().catch((error: Error) => {
        if (!mine.aborted) trouble.value = error.message;
      });
    }, STILL_MS);
    mine.addEventListener('abort', () => clearTimeout(timer));
  });
  return held;
}
