import { ENGINE_MEANING } from '../../measure/evidence-key.js';
import type { Cache } from '../../store/cache.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import type { PackedMaps } from '../cures/change-maps.js';
import type { Box, Places } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { Measures } from './measures/measures.js';

/** Raised whenever reading the same frames gives something else to keep, so that what was kept before is not used. */
const MEANING = 3;

/** What one reading of a clip found; causes and sentences follow from it without reading again. */
export interface Found {
  triggers: { trigger: number; box: Box; measures: Measures }[];
  places: Places;
  byLuck: number[];
}

/** Names, in the cache, of what was found in a clip under some settings. */
export function entryOf({ clip, camera, settings, polygons, judged, times }: ReplayedClip): string[] {
  const { warnings: _, ...values } = settings;
  const boxes = clip.labels?.visits.map(({ start, end, box }) => [start, end, box ?? null]);
  const facts = [MEANING, ENGINE_MEANING, clip.contentKey, camera, values, polygons, judged, boxes];
  return ['looks', keyOf(facts, times)];
}

/** What was found in an earlier run; null where there is none, or it is not whole. */
export async function readKept(
  cache: Cache,
  entry: string[],
): Promise<{ found: Found; maps: PackedMaps | null } | null> {
  const body = await readSealed(cache, entry);
  if (!body) return null;
  let at = 4 + body.readUInt32LE(0);
  const { found, maps } = JSON.parse(body.toString('utf8', 4, at)) as Head;
  if (!maps) return { found, maps: null };
  const chunks = maps.chunks.map(({ maps, length }) => {
    at += length;
    return { maps, bytes: body.subarray(at - length, at) };
  });
  return { found, maps: { ...maps, chunks } };
}

/** The text before the maps; chunks by their lengths, as they follow one another. */
interface Head {
  found: Found;
  maps: (Omit<PackedMaps, 'chunks'> & { chunks: { maps: number; length: number }[] }) | null;
}

export async function keep(
  cache: Cache,
  entry: string[],
  found: Found,
  maps: PackedMaps | null,
): Promise<void> {
  const chunks = maps?.chunks.map(({ maps, bytes }) => ({ maps, length: bytes.length })) ?? [];
  const head: Head = { found, maps: maps && { ...maps, chunks } };
  const text = Buffer.from(JSON.stringify(head));
  const length = Buffer.alloc(4);
  length.writeUInt32LE(text.length);
  const packed = maps?.chunks.map(({ bytes }) => bytes) ?? [];
  await writeSealed(cache, entry, Buffer.concat([length, text, ...packed]));
}
