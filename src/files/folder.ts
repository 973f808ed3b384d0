import {
  copyFile,
  link,
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
import { undivided } from './undivided.js';

/** What a hard link fails with where a copy may not. */
const UNLINKABLE = ['EXDEV', 'EPERM', 'EMLINK', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP', 'EACCES'];

/** Files that may be in the making at once. */
const IN_FLIGHT = 4;

/** A folder that is being made, out of sight until it is whole. Names are relative to it, with / between folders. */
export class FolderInMaking {
  private readonly waiting: Promise<void>[] = [];

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

  /**
   * Writes a file once its bytes are there; a few are made at once, and until there is room for this one it waits.
   * @throws what making an earlier one threw, or Problem 'file-unwritable'
   */
  async writeLater(name: string, bytes: Promise<Uint8Array>): Promise<void> {
    const written = bytes.then((made) => this.write(name, made));
    // Whoever waits for it is told; until then a failure must not end the program.
    written.catch(() => undefined);
    this.waiting.push(written);
    if (this.waiting.length >= IN_FLIGHT) await this.waiting.shift();
  }

  /** Waits for all files that are still in the making, and throws what the first of them threw. */
  async settle(): Promise<void> {
    const ends = await Promise.allSettled(this.waiting.splice(0));
    for (const end of ends) if (end.status === 'rejected') throw end.reason;
  }

  /** Copies a file into it. @throws Problem 'file-unwritable' where the copy cannot be written */
  async copy(from: string, name: string, mode: number): Promise<void> {
    await this.telling(name, (path) => copyFile(from, path, mode));
  }

  /**
   * Puts a file into it without a second copy, as a hard link, never a symbolic one.
   * @returns whether that can be: on another file system, or one without hard links, it cannot
   * @throws Problem 'file-unwritable'
   */
  async takeLink(from: string, name: string): Promise<boolean> {
    try {
      // Of a link the file that it leads to: some systems would link the link.
      await link(await realpath(from), join(this.path, name));
      return true;
    } catch (error) {
      if (UNLINKABLE.includes(codeOf(error) ?? '')) return false;
      throw unwritable(join(this.target, name), error);
    }
  }

  /** Takes a file into it, which is no longer where it was. @throws Problem 'file-unwritable' */
  async take(from: string, name: string): Promise<void> {
    await this.telling(name, (path) => rename(from, path));
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
 * @param enter what belongs to it elsewhere, once it is there: no signal comes between
 * @throws Problem 'file-unwritable', and whatever `fill` throws, with nothing left behind; what `enter` throws, the folder
 * stays then
 */
export async function makeFolderAtomically(
  dir: string,
  fill: (folder: FolderInMaking) => Promise<void>,
  enter?: () => Promise<void>,
): Promise<void> {
  await mustBeFree(dir);
  await make(
    dir,
    fill,
    async (partial, target) => {
      await rmdir(target).catch(ignoreMissing);
      await rename(partial, target);
    },
    enter,
  );
}

/**
 * As `makeFolderAtomically`, where several processes may make the same folder at once: what stands there already is kept
 * if it is whole, else replaced.
 * @throws Problem 'file-unwritable', and whatever `fill` throws, with nothing left behind
 */
export async function makeSharedFolder(
  dir: string,
  fill: (folder: FolderInMaking) => Promise<void>,
  isWhole: () => Promise<boolean>,
): Promise<void> {
  await make(dir, fill, async (partial, target) => {
    for (let tries = 0; ; tries++) {
      try {
        await rename(partial, target);
        return;
      } catch (error) {
        if (tries === TRIES || !TAKEN.includes(codeOf(error) ?? '')) throw error;
      }
      if (await isWhole()) break;
      // Renamed first, so that nobody finds half of it while it goes.
      const away = besides(target);
      await rename(target, away).catch(ignoreMissing);
      await removeAll(away);
    }
    await removeAll(partial);
  });
}

/** How often what stands in a folder's place is moved away, should others put it there again and again. */
const TRIES = 3;
/** What a rename of a folder fails with where something stands in its place. */
const TAKEN = ['ENOTEMPTY', 'EEXIST', 'ENOTDIR', 'EPERM'];

async function make(
  dir: string,
  fill: (folder: FolderInMaking) => Promise<void>,
  place: (partial: string, target: string) => Promise<void>,
  enter?: () => Promise<void>,
): Promise<void> {
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
  const folder = new FolderInMaking(partial, dir);
  try {
    await fill(folder);
    await folder.settle();
    await undivided(dir, async () => {
      await place(partial, target).catch((error) => {
        throw unwritable(dir, error);
      });
      await enter?.();
    });
  } catch (error) {
    await folder.settle().catch(() => undefined);
    await removeAll(partial);
    if (firstMade !== undefined) await removeEmptyUpTo(parent, firstMade);
    throw error;
  } finally {
    done(partial);
  }
}

async function removeAll(path: string): Promise<void> {
  await rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 20 });
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
