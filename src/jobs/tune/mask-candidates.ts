import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import type { Settings } from '../../camera/settings.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { fewOf, masksSought, type Seen, seenOf } from '../../diagnose/cures/candidates.js';
import { openReplayed } from '../../diagnose/replayed-clip.js';
import type { Polygon } from '../../engine/mask.js';
import { levelOf } from '../../engine/triggers.js';
import { ENGINE_MEANING, piecesOf, type ReadingOptions } from '../../measure/evidence.js';
import { pieceRulesOf } from '../../measure/pieces.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import { searchOf } from '../../tune/mask.js';
import type { Parts } from './sweep-clip.js';

/** Raised whenever the same footage gives other candidates, so that those kept before are not used. */
const MEANING = 4;

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
  const rules = pieceRulesOf(camera);
  if (!rules) return [];
  const noted = (settings: Settings): Settings => ({
    ...settings,
    threshold: nearest(rules.levels, levelOf(settings.threshold)),
  });
  const keyed = searches.map((asked) => asked.map((settings) => JSON.stringify(noted(settings))));
  const all = [...new Set(keyed.flat())];
  const under: Seen[][] = all.map(() => []);
  for (const [c, clip] of clips.entries()) {
    options.onPhase(`${clip.dir}: looking for masks`);
    const { blocks } = parts[c]!;
    const folds = searches.map((_, search) => blocks.filter((_, block) => searchOf(c, block) === search));
    const mask = drawMask(clip.labels.mask, camera);
    const pieces = await piecesOf(clip, camera, mask, floorFor(camera, rules.levels.at(-1)!), rules, options);
    for (const [s, key] of all.entries()) {
      const settings = { ...(JSON.parse(key) as Settings), warnings: [] };
      const replayed = await openReplayed(clip, camera, settings, options);
      under[s]!.push(await seenOf({ replayed, noted: pieces, folds }));
    }
  }
  return together(
    keyed.map((asked, search) => fewOf(asked.map((key) => masksSought(under[all.indexOf(key)]!, search)))),
  );
}

function nearest(levels: readonly number[], level: number): number {
  return levels.reduce((a, b) => (Math.abs(b - level) < Math.abs(a - level) ? b : a));
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
