import { stat } from 'node:fs/promises';
import { z } from 'zod';
import { type Cache, JUST_USED } from './cache.js';
import { type Entry, inventory } from './inventory.js';

/** Bytes that may be kept where the owner has not said otherwise: evidence of some hundred hours. */
export const USUAL_LIMIT = 20e9;
/** What is made room for beyond the limit, so that it is not looked for again at once. */
const ROOM = 0.1;
/** Milliseconds after which all is weighed again, whatever this run writes. */
const WEIGHED_FOR = 86_400_000;

const LIMIT = ['limit'];
const WEIGHED = ['weighed'];
const limitSchema = z.strictObject({ bytes: z.number().min(0) });

/** Bytes that may be kept, as the owner has said, or the usual. */
export async function limitOf(cache: Cache): Promise<number> {
  const text = (await cache.read(LIMIT))?.toString();
  try {
    return limitSchema.parse(JSON.parse(text ?? '')).bytes;
  } catch {
    return USUAL_LIMIT;
  }
}

export async function setLimit(cache: Cache, bytes: number): Promise<void> {
  await cache.write(LIMIT, Buffer.from(JSON.stringify({ bytes })));
}

/** Whether it is a day or more since what is kept was weighed. */
export async function isWeighingDue(cache: Cache, now = Date.now()): Promise<boolean> {
  const info = await stat(cache.path(...WEIGHED)).catch(() => null);
  return info === null || now - info.mtimeMs > WEIGHED_FOR;
}

/**
 * Where more is kept than may be, removes what was not used for longest, until a tenth less than that is kept. What this run
 * or another has used in the last hour stays.
 * @returns what was removed
 */
export async function keepWithin(cache: Cache, limit: number, now = Date.now()): Promise<Entry[]> {
  const entries = await inventory(cache.root);
  await cache.write(WEIGHED, Buffer.alloc(0));
  let bytes = bytesOf(entries);
  if (bytes <= limit) return [];
  const removed: Entry[] = [];
  for (const entry of entries.toSorted((a, b) => a.used - b.used)) {
    if (bytes <= (1 - ROOM) * limit || now - entry.used < JUST_USED) break;
    await cache.remove(entry.names);
    bytes -= entry.bytes;
    removed.push(entry);
  }
  return removed;
}

export function bytesOf(entries: readonly Entry[]): number {
  return entries.reduce((sum, { bytes }) => sum + bytes, 0);
}
