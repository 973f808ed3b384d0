import type { Camera } from '../../camera/description.js';
import type { Settings } from '../../camera/settings.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { fewOf, masksSought, type Several, type Sought } from '../../diagnose/cures/candidates.js';
import { changesUnder, type MapsUnder } from '../../diagnose/cures/changes-under.js';

import { openReplayed } from '../../diagnose/replayed-clip.js';
import type { Polygon } from '../../engine/mask.js';
import { ENGINE_MEANING, type ReadingOptions } from '../../measure/evidence.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import { searchOf } from '../../tune/mask.js';
import type { Parts } from './sweep-clip.js';

/** Raised whenever the same footage gives other candidates, so that those kept before are not used. */
const MEANING = 3;

export interface Candidate {
  /** What is masked besides the owner's own. */
  polygons: Polygon[];
  /** The searches that found it. */
  foundBy: number[];
}

/**
 * The few masks worth trying at a site, from where false triggers come and animals do not. Each search sees only its own
 * blocks of the clips. What an earlier run found in the same footage is taken from the cache.
 * @param searches for each the settings under which it looks
 */
export async function candidatesOf(
  clips: readonly LabelledClip[],
  parts: readonly Parts[],
  camera: Camera,
  searches: readonly (readonly Settings[])[],
  options: ReadingOptions & { onPhase: (what: string) => void },
): Promise<Candidate[]> {
  const facts = clips.map(({ contentKey, seconds, labels }) => [contentKey, seconds, labels]);
  const times = clips.map((clip) => clip.times);
  const entry = ['masks', keyOf([MEANING, ENGINE_MEANING, facts, camera, searches], ...times)];
  const kept = await readSealed(options.cache, entry);
  if (kept) return JSON.parse(kept.toString('utf8')) as Candidate[];
  const found = await find(clips, parts, camera, searches, options);
  await writeSealed(options.cache, entry, Buffer.from(JSON.stringify(found)));
  return found;
}

async function find(
  clips: readonly LabelledClip[],
  parts: readonly Parts[],
  camera: Camera,
  searches: readonly (readonly Settings[])[],
  options: ReadingOptions & { onPhase: (what: string) => void },
): Promise<Candidate[]> {
  const all = [...new Map(searches.flat().map((settings) => [JSON.stringify(settings), settings])).values()];
  const under: Sought[][] = all.map(() => []);
  const held: MapsUnder[] = [];
  try {
    for (const [c, clip] of clips.entries()) {
      options.onPhase(`${clip.dir}: looking for masks, reading frames`);
      const { whole, blocks } = parts[c]!;
      const folds = searches.map((_, search) => blocks.filter((_, block) => searchOf(c, block) === search));
      const replayed = await Promise.all(
        all.map((settings) => openReplayed(clip, camera, { ...settings, warnings: [] }, options)),
      );
      const changes = await changesUnder(replayed, options);
      held.push(changes);
      changes.maps.forEach((maps, s) => {
        under[s]!.push({ replayed: replayed[s]!, maps, whole, folds });
      });
    }
    const sought: Several[][][] = [];
    for (const clipsUnder of under) sought.push(await masksSought(clipsUnder, searches.length));
    return together(
      searches.map((asked, search) =>
        fewOf(
          asked.map(
            (settings) =>
              sought[all.findIndex((other) => JSON.stringify(other) === JSON.stringify(settings))]![search]!,
          ),
        ),
      ),
    );
  } finally {
    for (const { dispose } of held) await dispose();
  }
}

/** What more than one search found is one candidate. */
function together(found: readonly Polygon[][][]): Candidate[] {
  const all = new Map<string, Candidate>();
  found.forEach((masks, search) => {
    for (const polygons of masks) {
      const key = JSON.stringify(polygons);
      const known = all.get(key);
      if (known) known.foundBy.push(search);
      else all.set(key, { polygons, foundBy: [search] });
    }
  });
  return [...all.values()];
}
