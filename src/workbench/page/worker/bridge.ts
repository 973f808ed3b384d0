import { type Remote, transfer, wrap } from 'comlink';
import type { Engine } from './engine.js';
import type { Slot } from './held.js';

let running: Remote<Engine> | null = null;

/** The worker, started when first needed. All heavy work in the page goes through it. */
export function engine(): Remote<Engine> {
  running ??= wrap<Engine>(new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' }));
  return running;
}

/** Gives the worker a clip's evidence. */
export function hold(slot: Slot, bytes: ArrayBuffer): Promise<{ levels: number[]; frames: number }> {
  return engine().hold(slot, transfer(bytes, [bytes]));
}

/** Gives the worker how much changed within the boxes of visits. */
export function holdWithin(slot: Slot, of: string, bytes: ArrayBuffer): Promise<void> {
  return engine().holdWithin(slot, of, transfer(bytes, [bytes]));
}
