import { execFile } from 'node:child_process';
import type { EventEmitter } from 'node:events';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { vi } from 'vitest';
import { main } from '../../src/cli/main.js';

/** What a command line gave: its exit code, and all of its standard output and standard error. */
export interface Ran {
  code: number;
  out: string;
  err: string;
}

/** Lines of standard error but for those of progress, which there are where it takes longer than a second, as on a busy machine. */
export function messagesIn(err: string): string[] {
  return err.split('\n').filter((line) => line.startsWith('perchmark: '));
}

/** Runs `perchmark` with these arguments. */
export type Command = (...args: string[]) => Promise<Ran>;

export const bin = fileURLToPath(new URL('../../bin/perchmark.js', import.meta.url));

/**
 * The command line as it behaves in `folder`, run in this process, which takes a tenth of the time of starting one. One
 * call at a time: the working folder and the output belong to the whole process.
 */
export function commandIn(folder: string, cache = join(folder, 'cache')): Command {
  return async (...args) => {
    const ran: Ran = { code: 0, out: '', err: '' };
    const taken = (to: 'out' | 'err') => (text: string | Uint8Array, done?: unknown) => {
      ran[to] += text;
      if (typeof done === 'function') done();
      return true;
    };
    const out = vi.spyOn(process.stdout, 'write').mockImplementation(taken('out'));
    const err = vi.spyOn(process.stderr, 'write').mockImplementation(taken('err'));
    const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'].map((signal) => kept(process, signal));
    const restore = [...signals, kept(process.stdout, 'error'), kept(process.stderr, 'error')];
    const before = process.cwd();
    vi.stubEnv('PERCHMARK_CACHE', cache);
    process.chdir(folder);
    try {
      ran.code = await main(args);
      return ran;
    } finally {
      process.chdir(before);
      vi.unstubAllEnvs();
      for (const undo of restore) undo();
      out.mockRestore();
      err.mockRestore();
    }
  };
}

/** The command line as a user starts it: the built program, in a process of its own. */
export function processIn(folder: string, cache = join(folder, 'cache')): Command {
  const env = { ...process.env, PERCHMARK_CACHE: cache };
  return (...args) =>
    new Promise((done) => {
      execFile(process.execPath, [bin, ...args], { env, cwd: folder }, (error, out, err) => {
        done({ code: error ? Number(error.code) : 0, out, err });
      });
    });
}

/** Takes away again what listens to an event besides those that listen now. */
function kept(emitter: EventEmitter, event: string): () => void {
  const before = emitter.listeners(event);
  return () => {
    for (const listener of emitter.listeners(event)) {
      if (!before.includes(listener)) emitter.off(event, listener as () => void);
    }
  };
}
