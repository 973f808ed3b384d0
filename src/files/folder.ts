import {
  copyFile,
  lstat,
  mkdir,
  readdir,
  realpath,
  rename,
  rm,
  rmdir,
  stat,
  writeFile,
} from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { Problem } from '../base/problem.js';
import { codeOf, unwritable } from './faults.js';
import { begin, besides, done, sweep } from './partial.js';

/** A folder that is being made, out of sight until it is whole. Names are relative to it, with / between folders. */
export class FolderInMaking {
  constructor(
    /** Where it lies for now. */
    readonly path: string,
    /** What it will be called, for messages. */
    private readonly target: string,
  ) {}

  /** @throws Problem 'file-unwritable' */
  async makeFolder(name: string): Promise<void> {
    await this.telling(name, (path) => makeFolders(path));
  }

  /** @throws Problem 'file-unwritable' */
  async write(name: string, bytes: Uint8Array | string): Promise<void> {
    await this.telling(name, (path) => writeFile(path, bytes, { flag: 'wx' }));
  }

  /** @throws Problem 'file-unwritable' */
  async writeJson(name: string, value: object): Promise<void> {
    await this.write(name, `${JSON.stringify(value, null, 2)}\n`);
  }

  /** Copies a file into it. @throws Problem 'file-unwritable' where the copy cannot be written */
  async copy(from: string, name: string, mode: number): Promise<void> {
    await this.telling(name, (path) => copyFile(from, path, mode));
  }

  private async telling(name: string, act: (path: string) => Promise<unknown>): Promise<void> {
    await act(join(this.path, name)).catch((error) => {
      throw unwritable(join(this.target, name), error);
    });
  }
}

/**
 * Makes a folder that appears whole or not at all: `fill` works in a hidden folder beside it, which is then renamed.
 * @param dir must not exist, or be an empty folder
 * @throws Problem 'file-unwritable', and whatever `fill` throws, with nothing left behind
 */
export async function makeFolderAtomically(
  dir: string,
  fill: (folder: FolderInMaking) => Promise<void>,
): Promise<void> {
  await mustBeFree(dir);
  // Over a link to an empty folder: what is renamed then stands where it leads.
  const target = await realpath(dir).catch(() => resolve(dir));
  const parent = dirname(target);
  const partial = besides(target);
  let firstMade: string | undefined;
  try {
    firstMade = await makeFolders(parent);
    await sweep(parent);
    begin(partial);
    await mkdir(partial);
  } catch (error) {
    done(partial);
    throw unwritable(dir, error);
  }
  try {
    await fill(new FolderInMaking(partial, dir));
    try {
      await rmdir(target).catch(ignoreMissing);
      await rename(partial, target);
    } catch (error) {
      throw unwritable(dir, error);
    }
  } catch (error) {
    await rm(partial, { recursive: true, force: true, maxRetries: 5, retryDelay: 20 });
    if (firstMade !== undefined) await removeEmptyUpTo(parent, firstMade);
    throw error;
  } finally {
    done(partial);
  }
}

/**
 * Makes a folder and those on the way to it that are missing. Node's own way never ends where one cannot be made although
 * the one above is there, as in /proc.
 * @returns the first that was made; undefined where all were there
 * @throws the system's error
 */
export async function makeFolders(dir: string): Promise<string | undefined> {
  const make = () =>
    mkdir(dir).then(
      () => resolve(dir),
      async (error) => {
        if (codeOf(error) === 'EEXIST' && (await isFolder(dir))) return undefined;
        throw error;
      },
    );
  try {
    return await make();
  } catch (error) {
    const above = dirname(resolve(dir));
    if (codeOf(error) !== 'ENOENT' || above === resolve(dir)) throw error;
    const first = await makeFolders(above);
    return first === undefined ? make() : make().then(() => first);
  }
}

async function isFolder(path: string): Promise<boolean> {
  return (await stat(path).catch(() => null))?.isDirectory() === true;
}

/**
 * Refuses a place at which a new folder would overwrite something.
 * @throws Problem 'file-unwritable'
 */
export async function mustBeFree(dir: string): Promise<void> {
  if (dir.trim() === '') throw new Problem('usage', 'expected the name of a new folder, found an empty one');
  let entries: string[];
  try {
    entries = await readdir(dir);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT' && !(await lstat(dir).catch(() => null))) return;
    if (code === 'ENOENT') {
      throw new Problem(
        'file-unwritable',
        `${dir}: a link to nothing is in the way; expected a folder that does not exist yet`,
      );
    }
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

function ignoreMissing(error: unknown): void {
  if (codeOf(error) !== 'ENOENT') throw error;
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
