import { type Remote, transfer, wrap } from 'comlink';
import { trouble } from '../state/trouble.js';
import type { Engine } from './engine.js';
import type { Slot } from './held.js';

let running: { engine: Remote<Engine>; broken: Promise<never> } | null = null;

const BROKEN = 'the part of this page that reckons could not be started, or broke off; load the page again';

/** The worker, started when first needed. All heavy work in the page goes through it. */
export function engine(): Remote<Engine> {
  running ??= begun();
  return running.engine;
}

/**
 * Gives the worker a clip's evidence.
 * @throws Error where the worker cannot be started
 */
export function hold(slot: Slot, bytes: ArrayBuffer): Promise<{ levels: number[]; frames: number }> {
  const held = engine().hold(slot, transfer(bytes, [bytes]));
  return Promise.race([held, running!.broken]);
}

/** Gives the worker how much changed within the boxes of visits. */
export function holdWithin(slot: Slot, of: string, bytes: ArrayBuffer): Promise<void> {
  return engine().holdWithin(slot, of, transfer(bytes, [bytes]));
}

function begun(): NonNullable<typeof running> {
  const worker = new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_, fail) => {
    worker.addEventListener('error', () => {
      trouble.value = BROKEN;
      fail(new Error(BROKEN));
    });
  });
  broken.catch(() => undefined);
  return { engine: wrap<Engine>(worker), broken };
}
