import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { bin, type Ran } from '../support/command.js';

export interface Ended extends Ran {
  /** The signal that ended it, where it did not end by itself. */
  signal: NodeJS.Signals | null;
}

/** The built program in a process of its own, under way. */
export interface Running {
  kill(signal: NodeJS.Signals): void;
  ended: Promise<Ended>;
}

export function start(
  folder: string,
  args: readonly string[],
  { cache = join(folder, 'cache'), output = 'pipe' }: { cache?: string; output?: 'pipe' | number } = {},
): Running {
  const child = spawn(process.execPath, [bin, ...args], {
    cwd: folder,
    env: { ...process.env, PERCHMARK_CACHE: cache },
    stdio: ['ignore', output, 'pipe'],
  });
  const said = { out: '', err: '' };
  child.stdout?.setEncoding('utf8').on('data', (text) => {
    said.out += text;
  });
  child.stderr!.setEncoding('utf8').on('data', (text) => {
    said.err += text;
  });
  return {
    kill: (signal) => {
      child.kill(signal);
    },
    ended: new Promise((done) => {
      child.on('close', (code, signal) => done({ code: code ?? -1, signal, ...said }));
    }),
  };
}
