import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { fewOf, masksSought, type Seen, seenOf } from '../../diagnose/cures/candidates.js';
import { openReplayed } from '../../diagnose/replayed-clip.js';
import type { Polygon } from '../../engine/mask.js';
import { levelOf } from '../../engine/triggers.js';
import { ENGINE_MEANING, evidenceOf, piecesOf, type ReadingOptions } from '../../measure/evidence.js';
import { pieceRulesOf } from '../../measure/pieces.js';
import { stirringOf } from '../../measure/stirring.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';
import { SEARCHES, searchOf } from '../../tune/mask.js';
import { nearest, settingsToSearch, worthHidden } from './mask-settings.js';
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
  const kept = process.env.DBG ? null : await readSealed(options.cache, entry);
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
  const floor = floorFor(camera, rules.levels.at(-1)!);
  const noted: Awaited<ReturnType<typeof noteOf>>[] = [];
  const noteOf = async (clip: LabelledClip) => {
    options.onPhase(`${clip.dir}: looking for masks`);
    const mask = drawMask(clip.labels.mask, camera);
    const pieces = await piecesOf(clip, camera, mask, floor, rules, options);
    const { times, within } = await evidenceOf(clip, camera, mask, floor, options);
    return { clip, pieces, times, within, stirred: stirringOf(pieces, rules.levels) };
  };
  for (const clip of clips) noted.push(await noteOf(clip));
  const found: Polygon[][][] = [];
  for (let search = 0; search < SEARCHES; search++) {
    const seen = noted.map((one, c) => ({
      ...one,
      parts: parts[c]!.blocks.filter((_, block) => searchOf(c, block) === search),
    }));
    const wanted = await settingsToSearch(seen, camera, grid, goal);
    const lists = [];
    for (const settings of wanted) {
      const under: Seen[] = [];
      for (const { clip, pieces, parts: stretches } of seen) {
        const replayed = await openReplayed(
          clip,
          camera,
          { ...settings, threshold: nearest(rules.levels, levelOf(settings.threshold)), warnings: [] },
          options,
        );
        under.push(await seenOf({ replayed, noted: pieces, folds: [stretches] }));
      }
      lists.push(masksSought(under, 0));
    }
    found.push(await fewOf(lists, (cells) => worthHidden(seen, cells, camera, grid, goal)));
  }
  return together(found);
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
