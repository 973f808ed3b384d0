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
  // Ended, it writes nothing more to folders that are removed next.
  const ended = new Promise((done) => child.once('exit', done));
  onTestFinished(async () => {
    child.kill('SIGKILL');
    await ended;
  });
  const [line] = (await once(child.stdout!, 'data')) as [Buffer];
  return { child, address: (JSON.parse(line.toString()) as { address: string }).address };
}
