import { inventory } from '../store/inventory.js';
import { type Kind, kinds, REMOVABLE } from '../store/kinds.js';
import { bytesOf, keepWithin, limitOf, setLimit } from '../store/limit.js';
import { openPorts, type Ports } from './ports.js';

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

/** What is kept between runs: how much, and how much of it may be; less of it, where that is asked for. */
export async function kept({ limit, clear = false }: KeptInput = {}, ports: Ports = {}): Promise<KeptResult> {
  const { cache } = await openPorts(ports);
  if (limit !== undefined) await setLimit(cache, limit);
  const all = clear ? await inventory(cache.root) : [];
  for (const { names } of all) await cache.remove(names);
  const most = await limitOf(cache);
  const removed = [...all, ...(await keepWithin(cache, most))];
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
