import { createHash } from 'node:crypto';
import { type BigIntStats, createReadStream, lstatSync } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { Problem } from '../base/problem.js';
import { otherThanFile, unreadable } from '../files/regular.js';
import type { Cache } from '../store/cache.js';
import { KeyMaker, keyOf } from '../store/key.js';
import { readSealed, writeSealed } from '../store/sealed.js';

export interface ContentOptions {
  cache: Cache;
  onProgress?: ((done: number, total: number) => void) | undefined;
  signal?: AbortSignal | undefined;
  /** Sees each file that is a symbolic link; may refuse it by throwing. */
  checkLink?: ((file: string) => Promise<void>) | undefined;
  /** Sees each file's bytes while it is read for the first time; may refuse it by throwing. */
  inspect?: ((bytes: Uint8Array, file: string, index: number) => void) | undefined;
}

/** What every file here is, for messages. */
const EXPECTED = 'a file of the recording';

/** File systems stamp changes coarsely: a file changed within this time of being read may change again unnoticed. */
const racy = 2_000_000_000n;

/**
 * SHA-256 of the content of files in order, names not included. Kept under a fingerprint of names, sizes, change times
 * and inodes, so that unchanged files are read once; a fingerprint is not kept while one of them is so fresh that a
 * further change could bear the same time stamp (the rule of version control).
 * @param fileAt path of file i
 * @throws Problem 'file-missing', 'file-unreadable', and whatever `inspect` throws
 */
export async function contentKey(
  count: number,
  fileAt: (index: number) => string,
  options: ContentOptions,
): Promise<string> {
  const fingerprint = new KeyMaker();
  let newest = 0n;
  for (let i = 0; i < count; i++) {
    if (i % statsInARow === 0) {
      options.signal?.throwIfAborted();
      await setImmediate();
    }
    const file = fileAt(i);
    const info = await fileInfo(file, options);
    fingerprint.add(factsOf(file, info));
    if (info.mtimeNs > newest) newest = info.mtimeNs;
  }
  return remembered(options.cache, fingerprint.key(), newest, () => hashAll(count, fileAt, options));
}

/** Asked synchronously, which takes a day's stills in seconds; other work gets its turn after so many. */
const statsInARow = 1000;

/** Anything but a file is refused before it is opened: a named pipe would be waited for. */
async function fileInfo(file: string, options: ContentOptions): Promise<BigIntStats> {
  let info: BigIntStats;
  try {
    info = lstatSync(file, { bigint: true });
  } catch (error) {
    throw await unreadable(file, error, EXPECTED);
  }
  if (info.isSymbolicLink()) {
    info = await stat(file, { bigint: true }).catch(async (error) => {
      throw await unreadable(file, error, EXPECTED);
    });
    await options.checkLink?.(file);
  }
  const other = otherThanFile(info);
  if (other === null) return info;
  throw new Problem(
    'file-unreadable',
    `${file}: this is ${other}; expected ${EXPECTED}; take it out of the clip`,
  );
}

/** What changes, at least one of it, when a file's content does. */
function factsOf(file: string, { size, mtimeNs, ino }: BigIntStats): string {
  return `${size} ${mtimeNs} ${ino} ${basename(file)}`;
}

async function remembered(
  cache: Cache,
  fingerprint: string,
  newest: bigint,
  make: () => Promise<string>,
): Promise<string> {
  const entry = ['content', fingerprint];
  const known = await readSealed(cache, entry);
  if (known) return known.toString('latin1');
  const started = BigInt(Date.now()) * 1_000_000n;
  const key = await make();
  if (newest < started - racy) await writeSealed(cache, entry, Buffer.from(key, 'latin1'));
  return key;
}

async function hashAll(
  count: number,
  fileAt: (index: number) => string,
  { onProgress, signal, inspect }: ContentOptions,
): Promise<string> {
  const all = createHash('sha256');
  for (let i = 0; i < count; i++) {
    signal?.throwIfAborted();
    const file = fileAt(i);
    const bytes = await readFile(file).catch(async (error) => {
      throw await unreadable(file, error, EXPECTED);
    });
    inspect?.(bytes, file, i);
    // The length keeps two files from being taken for their joined content cut elsewhere.
    all.update(`${bytes.length}\0`).update(bytes);
    onProgress?.(i + 1, count);
  }
  return all.digest('hex');
}

/** As contentKey, for one file of any size, read in pieces. */
export async function fileContentKey(file: string, options: ContentOptions): Promise<string> {
  const info = await fileInfo(file, options);
  const fingerprint = keyOf('video', factsOf(file, info));
  return remembered(options.cache, fingerprint, info.mtimeNs, () => hashFile(file, info.size, options));
}

async function hashFile(file: string, size: bigint, { onProgress, signal }: ContentOptions): Promise<string> {
  const all = createHash('sha256');
  let done = 0;
  try {
    for await (const piece of createReadStream(file, { highWaterMark: 1 << 20 })) {
      signal?.throwIfAborted();
      all.update(piece as Buffer);
      done += (piece as Buffer).length;
      onProgress?.(done, Number(size));
    }
  } catch (error) {
    signal?.throwIfAborted();
    throw await unreadable(file, error, EXPECTED);
  }
  return all.digest('hex');
}
