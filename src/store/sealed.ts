import type { Cache } from './cache.js';
import { keyOf } from './key.js';

/** Raised whenever the layout changes; older entries are then made again. */
const MAGIC = Buffer.from('PSE1', 'latin1');
/** Bytes: magic 4, SHA-256 of the names and the body 32. */
const HEADER = MAGIC.length + 32;

/**
 * Keeps bytes in the cache so that any change to them is noticed.
 * @param mode who may read them: see `Cache.write`
 */
export async function writeSealed(
  cache: Cache,
  entry: readonly string[],
  body: Uint8Array,
  mode?: number,
): Promise<void> {
  await cache.write(entry, Buffer.concat([headerOf(entry, body), body]), mode);
}

/** The bytes that `writeSealed` kept under these names; null where there are none, or they are not what they were. */
export async function readSealed(cache: Cache, entry: readonly string[]): Promise<Buffer | null> {
  const bytes = await cache.read(entry);
  if (!bytes || bytes.length < HEADER) return null;
  const body = bytes.subarray(HEADER);
  return headerOf(entry, body).equals(bytes.subarray(0, HEADER)) ? body : null;
}

/** The names are part of it, so that a file that was moved is not taken for another. */
function headerOf(entry: readonly string[], body: Uint8Array): Buffer {
  return Buffer.concat([MAGIC, Buffer.from(keyOf(entry, body), 'hex')]);
}
