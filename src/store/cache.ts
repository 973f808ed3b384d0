import { lstat, rm, utimes } from 'node:fs/promises';
import { homedir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { Problem } from '../base/problem.js';
import { writeAtomic } from '../files/atomic.js';
import { codeOf, unwritable } from '../files/faults.js';
import { makeFolders } from '../files/folder.js';
import { partialIn, sweep } from '../files/partial.js';
import { openRegular, readRegular } from '../files/regular.js';
import { depthOf, REMOVABLE } from './kinds.js';

/** For messages that nobody sees: what cannot be read is made again. */
const KEPT = 'what is kept';
/** Where entries are while they are written: all in one folder, so that it takes no search to sweep it. */
const UNFINISHED = 'unfinished';
/** Milliseconds within which it makes no difference when something was used. */
const RECENTLY = 60_000;
/** Milliseconds within which nothing is removed that was used, to make room: a run may be at work on it. */
export const JUST_USED = 3_600_000;
/** Milliseconds after which it is noted again that something is used, long before it may be removed. */
const NOTED_FOR = JUST_USED / 4;
/** Told after so many bytes were written that room may have to be made. */
const WRITTEN = 64 * 2 ** 20;
/** Folders in which drawings, too, are made beside their places. */
const MADE_IN = [UNFINISHED, 'scenes'];

/**
 * Bytes kept between runs, each under a path of names. Whatever is in it can be made again: it may be deleted at any time,
 * and what stands in an entry's way is removed. A cache that cannot be written is no fault: it warns once, and keeps what
 * this run writes in memory.
 */
export class Cache {
  readonly root: string;
  readonly #onWarning: (line: string) => void;
  readonly #memory = new Map<string, Uint8Array>();
  /** When that was last noted of what this run uses, milliseconds since 1970. */
  readonly #used = new Map<string, number>();
  /** What was removed of the folder that this one stands in for, which itself stays as it is. */
  readonly #forgotten = new Set<string>();
  #onDisk = true;
  #warned = false;
  #written = 0;
  /** Makes room, where what is kept has a limit. */
  makeRoom: (() => Promise<unknown>) | null = null;
  /** Whether what cannot be written is a fault after all, for others count on it: `write` then throws. */
  mustKeep = false;

  /**
   * @param root default: $PERCHMARK_CACHE, else $XDG_CACHE_HOME/perchmark, else ~/.cache/perchmark
   * @param insteadOf the folder that could not be written, in the place of which this one lasts for the run: what is not here is
   *   read from there; null: it is no stand-in
   */
  constructor(
    root: string = defaultRoot(),
    onWarning: (line: string) => void = toStandardError,
    readonly insteadOf: string | null = null,
  ) {
    this.root = root;
    this.#onWarning = onWarning;
  }

  /** A cache that keeps all in memory, for as long as it is held. */
  static inMemory(): Cache {
    const cache = new Cache('');
    cache.#onDisk = false;
    return cache;
  }

  path(...parts: string[]): string {
    return join(this.root, ...parts);
  }

  /** Where an entry may be, the likelier first: here, and in the folder that this one stands in for. */
  places(parts: readonly string[]): string[] {
    const isForgotten = parts.some((_, i) => this.#forgotten.has(join(...parts.slice(0, i + 1))));
    const own = this.path(...parts);
    return this.insteadOf === null || isForgotten ? [own] : [own, join(this.insteadOf, ...parts)];
  }

  /** Removes what killed runs left unfinished. */
  async sweep(): Promise<void> {
    for (const folder of MADE_IN) await sweep(this.path(folder));
  }

  /** A place for a file that is gone when the run ends, in a folder that is there now. */
  async place(name: string): Promise<string> {
    await this.makeFolder(UNFINISHED);
    return partialIn(this.path(UNFINISHED), name);
  }

  /** The bytes under these names, or null when there are none or they cannot be read. */
  async read(parts: readonly string[]): Promise<Buffer | null> {
    const file = this.path(...parts);
    const held = this.#memory.get(file);
    if (held) return Buffer.from(held);
    if (!this.#onDisk) return null;
    for (const place of this.places(parts)) {
      const bytes = await readRegular(place, KEPT).catch(() => null);
      if (!bytes) continue;
      await this.use(parts);
      return bytes;
    }
    return null;
  }

  /**
   * Notes that an entry is used, by the time of its file or folder, so that what was not used for longest is the first to
   * make room. A run that goes on for hours notes it again and again.
   */
  async use(parts: readonly string[]): Promise<void> {
    const [kind = ''] = parts;
    if (!this.#onDisk || !Object.hasOwn(REMOVABLE, kind)) return;
    const path = this.path(...parts.slice(0, depthOf(kind)));
    const now = new Date();
    if (now.getTime() - (this.#used.get(path) ?? Number.NEGATIVE_INFINITY) < NOTED_FOR) return;
    this.#used.set(path, now.getTime());
    const info = await lstat(path).catch(() => null);
    if (!info || now.getTime() - info.mtimeMs < RECENTLY) return;
    await utimes(path, now, now).catch(() => undefined);
  }

  /** The first bytes (at most `length`) and the whole size, without reading the rest. */
  async head(parts: readonly string[], length: number): Promise<{ bytes: Buffer; size: number } | null> {
    const file = this.path(...parts);
    const held = this.#memory.get(file);
    if (held) return { bytes: Buffer.from(held.subarray(0, length)), size: held.length };
    if (!this.#onDisk) return null;
    for (const place of this.places(parts)) {
      const head = await headOf(place, length).catch(() => null);
      if (!head) continue;
      await this.use(parts);
      return head;
    }
    return null;
  }

  /**
   * Whole or not at all; readers of an older entry keep it until the new one is there.
   * @throws Problem 'file-unwritable' where it must be kept and cannot be
   * @param mode the file's permissions; left out: the system's usual ones, or an older entry's
   */
  async write(parts: readonly string[], bytes: Uint8Array, mode?: number): Promise<void> {
    const file = this.path(...parts);
    if (!this.#onDisk) {
      this.#memory.set(file, Uint8Array.from(bytes));
      return;
    }
    try {
      await this.#put(file, bytes, mode);
      this.#memory.delete(file);
      await this.#weigh(bytes.length);
    } catch (error) {
      if (this.mustKeep) throw unwritable(file, error);
      this.#memory.set(file, Uint8Array.from(bytes));
      if (this.#warned) return;
      this.#warned = true;
      const why = error instanceof Problem ? error.message : `${file}: ${codeOf(error) ?? String(error)}`;
      this.#onWarning(
        `the cache cannot be written (${why}); going on without it, so the next run starts anew. Set PERCHMARK_CACHE to a folder that can be written`,
      );
    }
  }

  async #weigh(written: number): Promise<void> {
    this.#written += written;
    if (this.#written < WRITTEN || !this.makeRoom) return;
    this.#written = 0;
    await this.makeRoom();
  }

  async #put(file: string, bytes: Uint8Array, mode: number | undefined): Promise<void> {
    for (let tries = 0; ; tries++) {
      try {
        if (tries > 0) {
          await this.makeFolder(UNFINISHED);
          await this.#makeFolderAt(dirname(file));
          await rm(file, { recursive: true, force: true });
        }
        await writeAtomic(file, bytes, partialIn(this.path(UNFINISHED), basename(file)), mode);
        return;
      } catch (error) {
        const code = codeOf(error) ?? codeOf((error as Error).cause);
        if (tries === TRIES || !code || !IN_THE_WAY.includes(code)) throw error;
      }
    }
  }

  /** Makes a folder of the cache, in the place of whatever file stands on the way. */
  async makeFolder(...parts: string[]): Promise<void> {
    await this.#makeFolderAt(this.path(...parts));
  }

  async #makeFolderAt(folder: string): Promise<void> {
    await makeFolders(folder).catch(async (error) => {
      if (!IN_THE_WAY.includes(codeOf(error) ?? '') || folder === this.root) throw error;
      await this.#makeFolderAt(dirname(folder));
      // A folder there now was made by another meanwhile.
      await rm(folder, { force: true }).catch((left) => {
        if (left.code !== 'ERR_FS_EISDIR') throw left;
      });
      await makeFolders(folder);
    });
  }

  /** Forgets an entry, or every entry below it. */
  async remove(parts: readonly string[]): Promise<void> {
    const path = this.path(...parts);
    for (const file of this.#memory.keys()) {
      if (file === path || file.startsWith(join(path, '/'))) this.#memory.delete(file);
    }
    if (this.insteadOf !== null) this.#forgotten.add(join(...parts));
    if (this.#onDisk) await rm(path, { recursive: true, force: true }).catch(() => undefined);
  }
}

async function headOf(file: string, length: number): Promise<{ bytes: Buffer; size: number }> {
  const handle = await openRegular(file, KEPT);
  try {
    const { size } = await handle.stat();
    const bytes = Buffer.alloc(Math.min(length, size));
    const { bytesRead } = await handle.read(bytes, 0, bytes.length, 0);
    return { bytes: bytes.subarray(0, bytesRead), size };
  } finally {
    await handle.close();
  }
}

/** How often a folder is made again, should somebody remove it at that very moment: as others do who empty the cache meanwhile. */
const TRIES = 20;
/** What a write fails with where a folder is missing, or something else stands where a file or a folder belongs. */
const IN_THE_WAY = ['ENOENT', 'ENOTDIR', 'EISDIR', 'ENOTEMPTY', 'EEXIST', 'ELOOP'];

function defaultRoot(): string {
  const { PERCHMARK_CACHE: own, XDG_CACHE_HOME: shared } = process.env;
  if (own) return own;
  return join(shared || join(homedir(), '.cache'), 'perchmark');
}

function toStandardError(line: string): void {
  process.stderr.write(`warning: ${line}\n`);
}
