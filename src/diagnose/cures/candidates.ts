import type { Polygon } from '../../engine/mask.js';
import type { SweepPart } from '../../sweep/sweep.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { ChangeMaps } from './change-maps.js';
import { effectNow } from './dials.js';
import { densityOf, type HotFrame, hotFrames } from './mask-hot.js';
import { ALIKE, promisingMasks, type SearchPart } from './mask-search.js';
import { CELLS, overlap, type Shape } from './mask-shapes.js';
import { hidesNothing } from './masks.js';

/** One clip of a site under some settings, with what changed in it and the stretches that masks are sought on. */
export interface Sought {
  replayed: ReplayedClip;
  maps: ChangeMaps;
  whole: SweepPart;
  /** For each search the stretches of the clip that it may see. */
  folds: readonly (readonly SweepPart[])[];
}

/** Masks of one polygon that each search brings; the best two together are one more. */
const SINGLE = 3;
/** More than this share of the picture is never masked. */
const MOST_MASKED = 0.5;

/**
 * For each search the promising masks over one site, best first, one polygon each, on the stretches that it may see. None
 * lies where animals come and go.
 * @param clips of one site, under one group of settings
 */
export async function masksSought(clips: readonly Sought[], searches: number): Promise<Shape[][]> {
  const seen = await Promise.all(
    clips.map(async (clip) => ({
      ...clip,
      hot: await hotFrames(clip.replayed, clip.maps, clip.whole),
      effect: await effectNow(clip.replayed),
    })),
  );
  return Array.from({ length: searches }, (_, search) => {
    const parts: SearchPart[] = seen.flatMap(({ replayed, folds, hot, effect }) =>
      (folds[search] ?? []).map((part) => ({ replayed, part, hot: within(hot, part), now: effect(part) })),
    );
    if (parts.every(({ now }) => now.falseTriggers === 0)) return [];
    const density = densityOf(parts);
    return promisingMasks(parts, density).filter((shape) => hidesNothing(shape, density));
  });
}

function within(hot: readonly HotFrame[], { from, times }: SweepPart): HotFrame[] {
  return hot.filter(({ place }) => place >= from && place < from + times.length);
}

/**
 * The few masks to be tried of those found under several settings, each list best first: in turn the best of each that is
 * like none taken before, and the first two together.
 */
export function fewOf(lists: readonly (readonly Shape[])[]): Polygon[][] {
  const taken: Shape[] = [];
  const longest = Math.max(0, ...lists.map(({ length }) => length));
  for (let rank = 0; rank < longest; rank++) {
    for (const list of lists) {
      const next = list[rank];
      if (taken.length === SINGLE || !next) continue;
      if (taken.every((shape) => overlap(shape, next) < ALIKE)) taken.push(next);
    }
  }
  const singles = taken.map(({ polygon }) => [polygon]);
  const [a, b] = taken;
  if (!a || !b || a.size + b.size > MOST_MASKED * CELLS) return singles;
  return [...singles, [a.polygon, b.polygon]];
}
