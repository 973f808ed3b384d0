import { rm } from 'node:fs/promises';
import { unwritable } from '../files/faults.js';
import { Cache } from '../store/cache.js';
import { type Entry, inventory } from '../store/inventory.js';
import { type Kind, kinds, REMOVABLE } from '../store/kinds.js';
import { bytesOf, keepWithin, limitOf, setLimit } from '../store/limit.js';
import { openCache, openLastingCache, type Ports } from './ports.js';

export interface KeptInput {
  /** Bytes that may be kept from now on; left out: as before. */
  limit?: number;
  /** Whether all that can be made again is removed. */
  clear?: boolean;
}

export interface KeptResult {
  folder: string;
  /** Of all that can be made again. */
  bytes: number;
  /** Bytes that may be kept. */
  limit: number;
  /** Bytes that were removed just now. */
  removed: number;
  kinds: {
    kind: Kind;
    about: string;
    entries: number;
    bytes: number;
    /** When any of it was used last, RFC 3339; null where there is none. */
    used: string | null;
  }[];
}

/**
 * The cache to be told of. Where it is to be changed none stands in for it.
 * @throws Problem 'file-unwritable' where it is to be changed and cannot be
 */
export function openKept(asked: KeptInput, onWarning: (line: string) => void): Promise<Cache> {
  return changes(asked) ? openLastingCache(undefined, onWarning) : openCache(onWarning);
}

/**
 * What is kept between runs: how much, and how much of it may be; less of it, where that is asked for. Of a cache that can only
 * be read all is told as it is.
 * @throws Problem 'file-unwritable' where it is to be changed and cannot be
 */
export async function kept(input: KeptInput = {}, { cache, onWarning }: Ports = {}): Promise<KeptResult> {
  const warn = onWarning ?? (() => undefined);
  const given = cache ?? (await openKept(input, warn));
  if (given.insteadOf === null) return told(given, await changed(given, input));
  if (changes(input)) await openLastingCache(given.insteadOf, warn);
  return told(new Cache(given.insteadOf, warn), []);
}

const changes = ({ limit, clear }: KeptInput) => limit !== undefined || clear === true;

/** Gives what was removed. */
async function changed(cache: Cache, { limit, clear = false }: KeptInput): Promise<Entry[]> {
  if (limit !== undefined) await setLimit(cache, limit);
  const all = clear ? await inventory(cache.root) : [];
  for (const { names } of all) await removeAt(cache, names);
  return [...all, ...(await keepWithin(cache, await limitOf(cache)))];
}

async function removeAt(cache: Cache, names: readonly string[]): Promise<void> {
  const path = cache.path(...names);
  // Others may be writing into it at that moment.
  await rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 20 }).catch((error) => {
    throw unwritable(path, error);
  });
  await cache.remove(names);
}

async function told(cache: Cache, removed: readonly Entry[]): Promise<KeptResult> {
  const most = await limitOf(cache);
  const left = await inventory(cache.root);
  return {
    folder: cache.root,
    bytes: bytesOf(left),
    limit: most,
    removed: bytesOf(removed),
    kinds: kinds.map((kind) => {
      const of = left.filter((entry) => entry.kind === kind);
      const used = of.length === 0 ? null : new Date(Math.max(...of.map((entry) => entry.used)));
      return {
        kind,
        about: REMOVABLE[kind],
        entries: of.length,
        bytes: bytesOf(of),
        used: used?.toISOString() ?? null,
      };
    }),
  };
}
