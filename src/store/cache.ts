import { mkdir, open, readFile, rm } from 'node:fs/promises';
import { homedir } from 'node:os';
import { dirname, join } from 'node:path';
import { Problem } from '../base/problem.js';
import { writeAtomic } from '../files/atomic.js';

/**
 * Bytes kept between runs, each under a path of names. Whatever is in it can be made again, so a cache that cannot be
 * written is no fault: it warns once, and keeps what this run writes in memory.
 */
export class Cache {
  readonly root: string;
  readonly #onWarning: (line: string) => void;
  readonly #memory = new Map<string, Uint8Array>();
  #warned = false;

  /** @param root default: $PERCHMARK_CACHE, else $XDG_CACHE_HOME/perchmark, else ~/.cache/perchmark */
  constructor(root: string = defaultRoot(), onWarning: (line: string) => void = toStandardError) {
    this.root = root;
    this.#onWarning = onWarning;
  }

  path(...parts: string[]): string {
    return join(this.root, ...parts);
  }

  /** The bytes under these names, or null when there are none or they cannot be read. */
  async read(parts: readonly string[]): Promise<Buffer | null> {
    const file = this.path(...parts);
    const held = this.#memory.get(file);
    if (held) return Buffer.from(held);
    return readFile(file).catch(() => null);
  }

  /** The first bytes (at most `length`) and the whole size, without reading the rest. */
  async head(parts: readonly string[], length: number): Promise<{ bytes: Buffer; size: number } | null> {
    const file = this.path(...parts);
    const held = this.#memory.get(file);
    if (held) return { bytes: Buffer.from(held.subarray(0, length)), size: held.length };
    try {
      const handle = await open(file);
      try {
        const { size } = await handle.stat();
        const bytes = Buffer.alloc(Math.min(length, size));
        const { bytesRead } = await handle.read(bytes, 0, bytes.length, 0);
        return { bytes: bytes.subarray(0, bytesRead), size };
      } finally {
        await handle.close();
      }
    } catch {
      return null;
    }
  }

  /** Whole or not at all; readers of an older entry keep it until the new one is there. */
  async write(parts: readonly string[], bytes: Uint8Array): Promise<void> {
    const file = this.path(...parts);
    try {
      await mkdir(dirname(file), { recursive: true });
      await writeAtomic(file, bytes);
      this.#memory.delete(file);
    } catch (error) {
      this.#memory.set(file, Uint8Array.from(bytes));
      if (this.#warned) return;
      this.#warned = true;
      const why =
        error instanceof Problem
          ? error.message
          : `${file}: ${(error as NodeJS.ErrnoException).code ?? String(error)}`;
      this.#onWarning(
        `the cache cannot be written (${why}); going on without it, so the next run starts anew. Set PERCHMARK_CACHE to a folder that can be written`,
      );
    }
  }

  /** Forgets an entry, or every entry below it. */
  async remove(parts: readonly string[]): Promise<void> {
    const path = this.path(...parts);
    for (const file of this.#memory.keys()) {
      if (file === path || file.startsWith(join(path, '/'))) this.#memory.delete(file);
    }
    await rm(path, { recursive: true, force: true }).catch(() => undefined);
  }
}

function defaultRoot(): string {
  const { PERCHMARK_CACHE: own, XDG_CACHE_HOME: shared } = process.env;
  if (own) return own;
  return join(shared || join(homedir(), '.cache'), 'perchmark');
}

function toStandardError(line: string): void {
  process.stderr.write(`warning: ${line}\n`);
}
