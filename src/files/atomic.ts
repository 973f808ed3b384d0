import { randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import { mkdir, readdir, rename, rm, rmdir, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { Problem } from '../base/problem.js';

/** Files and folders that exist only until they are renamed or done with. */
const leftovers = new Set<string>();
const signals = ['SIGINT', 'SIGTERM'] as const;

/** Removes every unfinished file and folder of this process, at once: for exits that cannot wait. */
export function cleanUpNow(): void {
  for (const path of leftovers) rmSync(path, { recursive: true, force: true });
  leftovers.clear();
}

/** A signal with no other listener ends the process as it would have without ours; others end it themselves. */
function onSignal(signal: NodeJS.Signals): void {
  if (process.listenerCount(signal) > 1) return;
  cleanUpNow();
  unwatch();
  process.kill(process.pid, signal);
}

function unwatch(): void {
  process.off('exit', cleanUpNow);
  for (const signal of signals) process.off(signal, onSignal);
}

function register(path: string): void {
  if (leftovers.size === 0) {
    process.on('exit', cleanUpNow);
    for (const signal of signals) process.on(signal, onSignal);
  }
  leftovers.add(path);
}

function forget(path: string): void {
  if (leftovers.delete(path) && leftovers.size === 0) unwatch();
}

/** Hidden, beside its target, so that the rename stays within one file system; unique, so that two runs never share one. */
function besides(target: string): string {
  return join(
    dirname(target),
    `.${basename(target)}.${process.pid}.${randomBytes(6).toString('hex')}.partial`,
  );
}

function unwritable(path: string, error: unknown): Problem {
  const code = (error as NodeJS.ErrnoException).code;
  return new Problem(
    'file-unwritable',
    `${path}: cannot be written (${code ?? String(error)}); free the place, change its permissions or choose another`,
  );
}

/**
 * Writes a file so that readers see the old content or the whole new one, never a part.
 * @throws Problem 'file-unwritable'
 */
export async function writeAtomic(file: string, bytes: Uint8Array | string): Promise<void> {
  const partial = besides(file);
  register(partial);
  try {
    await writeFile(partial, bytes, { flag: 'wx' });
    await rename(partial, file);
  } catch (error) {
    await rm(partial, { force: true });
    throw unwritable(file, error);
  } finally {
    forget(partial);
  }
}

/**
 * Makes a folder that appears whole or not at all: `fill` works in a hidden folder beside it, which is then renamed.
 * @param dir must not exist, or be an empty folder
 * @throws Problem 'file-unwritable', and whatever `fill` throws, with nothing left behind
 */
export async function makeFolderAtomically(
  dir: string,
  fill: (temporary: string) => Promise<void>,
): Promise<void> {
  await mustBeFree(dir);
  const target = resolve(dir);
  const parent = dirname(target);
  const partial = besides(target);
  let firstMade: string | undefined;
  try {
    firstMade = await mkdir(parent, { recursive: true });
    register(partial);
    await mkdir(partial);
  } catch (error) {
    forget(partial);
    throw unwritable(dir, error);
  }
  try {
    await fill(partial);
    try {
      await rmdir(target).catch(ignoreMissing);
      await rename(partial, target);
    } catch (error) {
      throw unwritable(dir, error);
    }
  } catch (error) {
    await rm(partial, { recursive: true, force: true });
    if (firstMade !== undefined) await removeEmptyUpTo(parent, firstMade);
    throw error;
  } finally {
    forget(partial);
  }
}

async function mustBeFree(dir: string): Promise<void> {
  let entries: string[];
  try {
    entries = await readdir(dir);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT') return;
    if (code !== 'ENOTDIR') throw unwritable(dir, error);
    throw new Problem(
      'file-unwritable',
      `${dir}: a file is in the way; expected a folder that does not exist yet`,
    );
  }
  if (entries.length > 0) {
    throw new Problem(
      'file-unwritable',
      `${dir}: the folder already holds ${entries.length} ${entries.length === 1 ? 'entry' : 'entries'}; expected an empty or a new folder, so that nothing is overwritten`,
    );
  }
}

function ignoreMissing(error: NodeJS.ErrnoException): void {
  if (error.code !== 'ENOENT') throw error;
}

/** Takes back the parents made for a folder that never came to be, as long as nobody put anything into them. */
async function removeEmptyUpTo(from: string, last: string): Promise<void> {
  for (let here = from; ; here = dirname(here)) {
    try {
      await rmdir(here);
    } catch {
      return;
    }
    if (here === resolve(last)) return;
  }
}
