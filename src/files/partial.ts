import { createHash, randomBytes } from 'node:crypto';
import { renameSync, rmSync } from 'node:fs';
import { lstat, readdir, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';

/** Files and folders of this process that exist only until they are renamed or done with. */
const unfinished = new Set<string>();

/** Folders may be shared by machines, on which the same process number means another process. */
const HOST = createHash('sha256').update(hostname()).digest('hex').slice(0, 8);
/** .NAME.HOST.PROCESS.RANDOM.partial */
const NAME = /^\..*\.([0-9a-f]{8})\.(\d+)\.[0-9a-f]{12}\.partial$/;
/** File systems take names of up to 255 bytes. */
const MOST_OF_NAME = 120;
/** More than there are threads that may be in the midst of a write: while this one removes it asks for no more. */
const TRIES = 100;

/** A place for what is not finished: hidden, beside its target, so that the rename stays within one file system; nobody else's. */
export function besides(target: string): string {
  return partialIn(dirname(target), basename(target));
}

/** A place in a folder for what is not finished and will be called so elsewhere. */
export function partialIn(folder: string, target: string): string {
  return join(
    folder,
    `.${beginningOf(target)}.${HOST}.${process.pid}.${randomBytes(6).toString('hex')}.partial`,
  );
}

function beginningOf(name: string): string {
  return [...name].slice(0, MOST_OF_NAME / 4).join('');
}

/** Whether a name in a file's folder is that of an unfinished one of it, or of one whose name begins alike; anybody's. */
export function isPartialOf(target: string, name: string): boolean {
  const start = `.${beginningOf(basename(target))}.`;
  return name.startsWith(start) && /^[0-9a-f]{8}\.\d+\.[0-9a-f]{12}\.partial$/.test(name.slice(start.length));
}

/** From here on the path goes when the process is ended. */
export function begin(path: string): void {
  if (unfinished.size === 0) process.on('exit', cleanUpNow);
  unfinished.add(path);
}

/** It was renamed or removed. */
export function done(path: string): void {
  if (unfinished.delete(path) && unfinished.size === 0) process.off('exit', cleanUpNow);
}

/** Removes every unfinished file and folder of this process, at once: for exits that cannot wait. */
export function cleanUpNow(): void {
  for (const path of unfinished) {
    // Under another name first: what other threads still write to the old one then fails instead of coming back.
    const away = `${path.replace(/\.[0-9a-f]{12}\.partial$/, '')}.${randomBytes(6).toString('hex')}.partial`;
    try {
      renameSync(path, away);
      removeNow(away);
    } catch {
      removeNow(path);
    }
  }
  unfinished.clear();
}

/**
 * Removes a file or a folder at once, while other threads of this process may still be writing into it. The retries that Node
 * offers (20 and 22) do not list a folder again, so that a file that came meanwhile would keep it.
 */
export function removeNow(path: string): void {
  for (let left = TRIES; ; left--) {
    try {
      rmSync(path, { recursive: true, force: true });
      return;
    } catch (error) {
      if (left === 0) throw error;
    }
  }
}

/** Removes from a folder what processes of this machine left unfinished that live no more. */
export async function sweep(folder: string): Promise<void> {
  await sweepAmong(folder, await readdir(folder).catch(() => []));
}

/** As `sweep`, where the folder was listed already. */
export async function sweepAmong(folder: string, names: readonly string[]): Promise<void> {
  for (const name of names) {
    const [, host, process] = NAME.exec(name) ?? [];
    if (host !== HOST || isAlive(Number(process))) continue;
    const path = join(folder, name);
    if (await lstat(path).catch(() => null))
      await rm(path, { recursive: true, force: true }).catch(() => undefined);
  }
}

function isAlive(process_: number): boolean {
  try {
    process.kill(process_, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
