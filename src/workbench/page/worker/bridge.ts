import { type Remote, transfer, wrap } from 'comlink';
import type { Engine } from './engine.js';

let running: Remote<Engine> | null = null;

/** The worker, started when first needed. All heavy work in the page goes through it. */
export function engine(): Remote<Engine> {
  running ??= wrap<Engine>(new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' }));
  return running;
}

/** Gives the worker a clip's evidence. */
export function hold(bytes: ArrayBuffer): Promise<{ levels: number[]; frames: number }> {
  return engine().hold(transfer(bytes, [bytes]));
}
