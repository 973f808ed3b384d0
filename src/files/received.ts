import { mkdir, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { short } from '../base/text.js';
import { unwritable } from './faults.js';
import { begin, done, partialIn, sweep } from './partial.js';

/** A recording of a day at one picture a second is less. */
const MOST_FILES = 100_000;

/** Files that arrive in pieces: in a hidden folder, which goes when they are taken, given up, or the program ends. */
export class Received {
  private readonly sizes = new Map<string, number>();
  /** A piece that is being written, by file: two at once would lie over one another. */
  private readonly adding = new Map<string, Promise<number>>();

  private constructor(
    /** The folder they are in. */
    readonly path: string,
  ) {}

  /**
   * @param root the folder that the hidden one is made in
   * @throws Problem 'file-unwritable'
   */
  static async begin(root: string): Promise<Received> {
    await sweep(root);
    const path = partialIn(root, 'received');
    begin(path);
    try {
      await mkdir(path);
    } catch (error) {
      done(path);
      throw unwritable(root, error);
    }
    return new Received(path);
  }

  /** Names of the files, in the order in which they came. */
  get names(): string[] {
    return [...this.sizes.keys()];
  }

  /**
   * Adds a piece at a file's end. A piece that was added before may come again, for an answer may get lost.
   * @param at bytes of the file before this piece
   * @returns bytes of the file now
   * @throws Problem for a name that is no plain one, a piece out of turn, or a disk that is full
   */
  append(name: string, at: number, bytes: Uint8Array): Promise<number> {
    const add = () => this.add(name, at, bytes);
    const added = (this.adding.get(name) ?? Promise.resolve()).then(add, add);
    this.adding.set(name, added);
    return added.finally(() => {
      if (this.adding.get(name) === added) this.adding.delete(name);
    });
  }

  private async add(name: string, at: number, bytes: Uint8Array): Promise<number> {
    refuseUnplain(name);
    const size = this.sizes.get(name) ?? 0;
    if (size > 0 && at + bytes.length === size) return size;
    if (at !== size) {
      throw new Problem(
        'bad-field',
        `${short(name)}: expected the piece from byte ${size} on, found one from ${at}; send it again from the start`,
      );
    }
    if (!this.sizes.has(name) && this.sizes.size >= MOST_FILES) {
      throw new Problem(
        'usage',
        `expected at most ${MOST_FILES} files in one recording; bring it in in parts`,
      );
    }
    await this.put(name, at, bytes);
    this.sizes.set(name, at + bytes.length);
    return at + bytes.length;
  }

  /** All of a piece or none of it: a disk that is nearly full takes a part of one, and says so only when asked for more. */
  private async put(name: string, at: number, bytes: Uint8Array): Promise<void> {
    const file = join(this.path, name);
    try {
      const handle = await open(file, at === 0 ? 'w' : 'r+');
      try {
        for (let done = 0; done < bytes.length; ) {
          done += (await handle.write(bytes, done, bytes.length - done, at + done)).bytesWritten;
        }
      } catch (error) {
        await handle.truncate(at);
        throw error;
      } finally {
        await handle.close();
      }
    } catch (error) {
      // A file of which nothing came would be taken for one of the recording.
      if (!this.sizes.has(name)) await rm(file, { force: true }).catch(() => undefined);
      throw unwritable(name, error);
    }
  }

  /** Removes what was received. */
  async end(): Promise<void> {
    await rm(this.path, { recursive: true, force: true, maxRetries: 5, retryDelay: 20 });
    done(this.path);
  }
}

/**
 * Refuses what is not the name of one visible file in a folder.
 * @throws Problem 'bad-field'
 */
export function refuseUnplain(name: string): void {
  const plain =
    name.trim() !== '' &&
    !name.startsWith('.') &&
    !name.includes('/') &&
    !name.includes('\\') &&
    ![...name].some((character) => character < ' ' || character === '\u007f') &&
    Buffer.byteLength(name) <= 200;
  if (plain) return;
  throw new Problem(
    'bad-field',
    `expected a plain name (no slashes, no dot in front, at most 200 bytes), found ${short(name)}; give it another`,
  );
}
