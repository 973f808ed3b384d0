import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { onTestFinished } from 'vitest';
import { bin } from './command.js';
import { scratch } from './workbench.js';

/** `perchmark open` as built, in a process of its own that goes when the test is done. */
export async function start(
  folder: string,
  cache = scratch(),
): Promise<{ child: ChildProcess; address: string }> {
  const env = { ...process.env, PERCHMARK_CACHE: cache };
  const child = spawn(process.execPath, [bin, 'open', folder, '--json'], {
    env,
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const [line] = (await once(child.stdout!, 'data')) as [Buffer];
  return { child, address: (JSON.parse(line.toString()) as { address: string }).address };
}
