import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { fewOf, masksSought, type Several } from '../../diagnose/cures/candidates.js';
import type { Polygon } from '../../engine/mask.js';
import { levelOf } from '../../engine/triggers.js';
import { evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import { ENGINE_MEANING } from '../../measure/evidence-key.js';
import { type PieceRules, pieceRulesOf } from '../../measure/pieces.js';
import { piecesOf } from '../../measure/pieces-kept.js';
import { stirringOf } from '../../measure/stirring.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';
import { SEARCHES, searchOf } from '../../tune/mask.js';
import { type Noted, nearest, settingsToSearch, worthHidden } from './mask-settings.js';
import type { Parts } from './sweep-clip.js';

/** Raised whenever the same footage gives other candidates, so that those kept before are not used. */
const MEANING = 5;

export interface Candidate {
  /** What is masked besides the owner's own. */
  polygons: Polygon[];
  /** The searches that found it. */
  foundBy: number[];
}

type Options = ReadingOptions & { onPhase: (what: string) => void };

/**
 * The few masks worth trying at a site, from where false triggers come and animals do not. Each search sees only its own
 * blocks of the clips. What an earlier run found in the same footage is taken from the cache.
 */
export async function candidatesOf(
  clips: readonly LabelledClip[],
  parts: readonly Parts[],
  camera: Camera,
  grid: Grid,
  goal: Goal,
  options: Options,
): Promise<Candidate[]> {
  const facts = clips.map(({ contentKey, seconds, labels }) => [contentKey, seconds, labels]);
  const times = clips.map((clip) => clip.times);
  const entry = ['masks', keyOf([MEANING, ENGINE_MEANING, facts, camera, goal], ...times)];
  const kept = await readSealed(options.cache, entry);
  if (kept) return JSON.parse(kept.toString('utf8')) as Candidate[];
  const found = await find(clips, parts, camera, grid, goal, options);
  await writeSealed(options.cache, entry, Buffer.from(JSON.stringify(found)));
  return found;
}

async function find(
  clips: readonly LabelledClip[],
  parts: readonly Parts[],
  camera: Camera,
  grid: Grid,
  goal: Goal,
  options: Options,
): Promise<Candidate[]> {
  const rules = pieceRulesOf(camera);
  if (!rules) return [];
  const noted: Noted[] = [];
  for (const clip of clips) noted.push(await notedOf(clip, camera, grid, rules, options));
  const found: Polygon[][][] = [];
  for (let search = 0; search < SEARCHES; search++) {
    const seen = noted.map((one, c) => ({
      ...one,
      parts: parts[c]!.blocks.filter((_, block) => searchOf(c, block) === search),
    }));
    const masks: Several[] = [];
    for (const settings of await settingsToSearch(seen, camera, grid, goal)) {
      const level = levelOf(settings.threshold);
      const at = seen.map((one) => ({ ...one, stirred: nearest(one.stirred, level) }));
      masks.push(...masksSought(at, camera, { ...settings, warnings: [] }));
      options.signal?.throwIfAborted();
    }
    found.push(await fewOf(masks, (cells) => worthHidden(seen, cells, camera, grid, goal)));
  }
  return together(found);
}

/** Where a clip changed, and how much within the boxes of its visits: from what is kept of it, no frame is read. */
async function notedOf(
  clip: LabelledClip,
  camera: Camera,
  grid: Grid,
  rules: PieceRules,
  options: Options,
): Promise<Noted> {
  options.onPhase(`${clip.dir}: looking for masks`);
  const mask = drawMask(clip.labels.mask, camera);
  const floor = floorFor(camera, rules.levels.at(-1)!);
  const pieces = await piecesOf(clip, camera, mask, floor, rules, options);
  const { times, within } = await evidenceOf(clip, camera, mask, floor, options);
  const stirred = stirringOf(pieces, rules.levels);
  if (!within) return { times, stirred, within };
  // Asked for one by one they would be decoded each time.
  const dial = grid.dials[grid.dialSetting('threshold')]!;
  const columns = await within.columns(dial.values.map(levelOf));
  return { times, stirred, within: { columns: async () => columns } };
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
