import type { Dirent } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { depthOf, type Kind, kinds } from './kinds.js';

/** Something that is kept, and removed as one. */
export interface Entry {
  kind: Kind;
  /** From the cache's folder. */
  names: string[];
  /** Of its files. */
  bytes: number;
  /** When it was last used, milliseconds since 1970. */
  used: number;
}

/** All entries that may be removed to make room. What goes while it is looked at is left out. */
export async function inventory(root: string): Promise<Entry[]> {
  const entries: Entry[] = [];
  for (const kind of kinds) {
    for (const names of await namesAt(root, [kind], depthOf(kind) - 1)) {
      const path = join(root, ...names);
      const info = await lstat(path).catch(() => null);
      if (!info) continue;
      const bytes = info.isDirectory() ? await bytesIn(path) : info.size;
      entries.push({ kind, names, bytes, used: info.mtimeMs });
    }
  }
  return entries;
}

async function namesAt(root: string, above: string[], deeper: number): Promise<string[][]> {
  if (deeper === 0) return [above];
  const found: string[][] = [];
  for (const { name } of await list(join(root, ...above))) {
    found.push(...(await namesAt(root, [...above, name], deeper - 1)));
  }
  return found;
}

async function bytesIn(folder: string): Promise<number> {
  let bytes = 0;
  for (const entry of await list(folder)) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) bytes += await bytesIn(path);
    else bytes += (await lstat(path).catch(() => null))?.size ?? 0;
  }
  return bytes;
}

function list(folder: string): Promise<Dirent[]> {
  return readdir(folder, { withFileTypes: true }).catch(() => []);
}
