import type { Polygon } from '../../engine/mask.js';
import { CELLS } from '../../measure/pieces.js';
import type { SweepPart } from '../../sweep/sweep.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { effectNow } from './dials.js';
import { densityOf, type HotFrame, hotFramesNoted } from './mask-hot.js';
import { promisingMasks, type SearchPart, underShape } from './mask-search.js';
import { overlap, type Shape } from './mask-shapes.js';
import { hidesNothing } from './masks.js';

/** One clip of a site under some settings, with where it changed and the stretches that masks are sought on. */
export interface Sought {
  replayed: ReplayedClip;
  /** As `piecesOf` gives it, of the settings' level among others. */
  noted: Uint8Array;
  /** For each search the stretches of the clip that it may see. */
  folds: readonly (readonly SweepPart[])[];
}

/** Polygons that are added one after the other, as few as one draws by hand: a branch, a tuft of grass, a path. */
const MOST_POLYGONS = 3;
/** More than this share of the picture is never masked. */
const MOST_MASKED = 0.5;
/** Masks tried at most of one search. */
const MOST_TRIED = 4;
/** Masks that share more than this are tried once. */
const SAME = 0.75;

/** Polygons over one site, and the cells under them. */
export interface Several extends Pick<Shape, 'cells' | 'size'> {
  polygons: Polygon[];
}

/**
 * For each search the masks of one polygon, of two and of three that promise most on the stretches that it may see: each is the one
 * before with one more, sought where that one no longer hides anything. No polygon lies where animals come and go.
 * @param clips of one site, under one group of settings
 */
export async function masksSought(clips: readonly Sought[], searches: number): Promise<Several[][]> {
  const seen = await Promise.all(
    clips.map(async (clip) => ({
      ...clip,
      hot: hotFramesNoted(clip.replayed, clip.noted),
      effect: await effectNow(clip.replayed),
    })),
  );
  return Array.from({ length: searches }, (_, search) =>
    oneAfterTheOther(
      seen.flatMap(({ replayed, folds, hot, effect }) =>
        (folds[search] ?? []).map((part) => ({ replayed, part, hot: within(hot, part), now: effect(part) })),
      ),
    ),
  );
}

function within(hot: readonly HotFrame[], { from, times }: SweepPart): HotFrame[] {
  return hot.filter(({ place }) => place >= from && place < from + times.length);
}

/** From what fires falsely under some settings, mask upon mask. */
export function oneAfterTheOther(parts: readonly SearchPart[]): Several[] {
  const found: Several[] = [];
  let left = parts;
  let last: Several = { polygons: [], cells: new Uint8Array(CELLS), size: 0 };
  while (found.length < MOST_POLYGONS && left.some(({ now }) => now.falseTriggers > 0)) {
    const density = densityOf(left);
    const next = promisingMasks(left, density)
      .filter((shape) => hidesNothing(shape, density))
      .map((shape) => ({ shape, several: withOneMore(last, shape) }))
      .find(({ several }) => several.size <= MOST_MASKED * CELLS);
    if (!next) break;
    last = next.several;
    found.push(last);
    left = left.map((part) => underShape(part, next.shape));
  }
  return found;
}

function withOneMore({ polygons, cells: before }: Several, shape: Shape): Several {
  const cells = before.map((cell, i) => cell | shape.cells[i]!);
  return {
    polygons: [...polygons, shape.polygon],
    cells,
    size: cells.reduce((sum, cell) => sum + cell, 0),
  };
}

/**
 * The few masks to be tried of those found under several settings: of two polygons before those of three and of one, those
 * of the first settings before the others, none much like one before.
 */
export function fewOf(lists: readonly (readonly Several[])[]): Polygon[][] {
  const taken: Several[] = [];
  for (const polygons of [2, 3, 1]) {
    for (const list of lists) {
      const next = list[polygons - 1];
      if (taken.length === MOST_TRIED || !next) continue;
      if (taken.every((other) => overlap(other, next) <= SAME)) taken.push(next);
    }
  }
  return taken.map(({ polygons }) => polygons);
}
