import type { Polygon } from '../../engine/mask.js';
import { CELLS } from '../../measure/pieces.js';
import type { SweepPart } from '../../sweep/sweep.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { type EffectOn, effectNow } from './dials.js';
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

/** A clip of a site, as all searches look at it under some settings. */
export interface Seen extends Pick<Sought, 'replayed' | 'folds'> {
  hot: readonly HotFrame[];
  effect: EffectOn;
}

export async function seenOf({ replayed, noted, folds }: Sought): Promise<Seen> {
  return { replayed, folds, hot: hotFramesNoted(replayed, noted), effect: await effectNow(replayed) };
}

/**
 * The masks of one polygon, of two and of three that promise most on the stretches that a search may see: each is the one
 * before with one more, sought where that one no longer hides anything. No polygon lies where animals come and go.
 * @param clips of one site, under one group of settings
 */
export function masksSought(clips: readonly Seen[], search: number): readonly Several[] {
  return new MaskUponMask(
    clips.flatMap(({ replayed, folds, hot, effect }) =>
      (folds[search] ?? []).map((part) => ({ replayed, part, hot: within(hot, part), now: effect(part) })),
    ),
  ).found;
}

function within(hot: readonly HotFrame[], { from, times }: SweepPart): HotFrame[] {
  return hot.filter(({ place }) => place >= from && place < from + times.length);
}

/** From what fires falsely under some settings, mask upon mask. */
class MaskUponMask {
  readonly found: Several[] = [];
  private last: Several = { polygons: [], cells: new Uint8Array(CELLS), size: 0 };

  /** @param left what fires under no mask, then under the last one */
  constructor(private left: readonly SearchPart[]) {
    while (this.found.length < MOST_POLYGONS && this.left.some(({ now }) => now.falseTriggers > 0)) {
      const next = this.oneMore();
      if (!next) break;
      this.last = withOneMore(this.last, next);
      this.left = this.left.map((part) => underShape(part, next));
      this.found.push(this.last);
    }
  }

  private oneMore(): Shape | undefined {
    const density = densityOf(this.left);
    return promisingMasks(this.left, density)
      .filter((shape) => hidesNothing(shape, density))
      .find((shape) => withOneMore(this.last, shape).size <= MOST_MASKED * CELLS);
  }
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
 * The few masks to be tried of those found under several settings, none much like one before: those under which the settings
 * that found them are worth most, so that masks and settings are chosen together.
 */
export async function fewOf(
  lists: readonly (readonly Several[])[],
  worthUnder: (cells: Uint8Array) => Promise<number>,
): Promise<Polygon[][]> {
  const ranked: { mask: Several; worth: number }[] = [];
  for (const mask of lists.flat()) ranked.push({ mask, worth: await worthUnder(mask.cells) });
  ranked.sort((a, b) => b.worth - a.worth);
  if (process.env.DBG)
    console.log(
      ranked.map((r) => `${r.mask.polygons.length}p ${r.mask.size} ${r.worth.toFixed(2)}`).join('; '),
    );
  const taken: Several[] = [];
  for (const { mask } of ranked) {
    if (taken.length === MOST_TRIED) break;
    if (taken.every((other) => overlap(other, mask) <= SAME)) taken.push(mask);
  }
  return taken.map(({ polygons }) => polygons);
}
