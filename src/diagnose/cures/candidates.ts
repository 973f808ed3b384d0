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
export function masksSought(clips: readonly Seen[], search: number): MaskUponMask {
  return new MaskUponMask(
    clips.flatMap(({ replayed, folds, hot, effect }) =>
      (folds[search] ?? []).map((part) => ({ replayed, part, hot: within(hot, part), now: effect(part) })),
    ),
  );
}

function within(hot: readonly HotFrame[], { from, times }: SweepPart): HotFrame[] {
  return hot.filter(({ place }) => place >= from && place < from + times.length);
}

/** From what fires falsely under some settings, mask upon mask, none sought before it is asked for. */
export class MaskUponMask {
  private readonly found: Several[] = [];
  private last: Several = { polygons: [], cells: new Uint8Array(CELLS), size: 0 };
  private hasEnded = false;

  /** @param left what fires under no mask, then under the last one */
  constructor(private left: readonly SearchPart[]) {}

  /** The mask of so many polygons, at most three; undefined where none is found. */
  of(polygons: number): Several | undefined {
    while (this.found.length < polygons && !this.hasEnded) this.search();
    return this.found[polygons - 1];
  }

  private search(): void {
    const { left, last } = this;
    const next = left.some(({ now }) => now.falseTriggers > 0) && this.oneMore();
    this.hasEnded = !next || this.found.length + 1 === MOST_POLYGONS;
    if (!next) return;
    this.last = withOneMore(last, next);
    this.found.push(this.last);
    this.left = left.map((part) => underShape(part, next));
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
 * The few masks to be tried of those found under several settings: of two polygons before those of three and of one, those
 * of the first settings before the others, none much like one before.
 */
export function fewOf(lists: readonly MaskUponMask[]): Polygon[][] {
  const taken: Several[] = [];
  for (const polygons of [2, 3, 1]) {
    for (const list of lists) {
      if (taken.length === MOST_TRIED) continue;
      const next = list.of(polygons);
      if (next && taken.every((other) => overlap(other, next) <= SAME)) taken.push(next);
    }
  }
  return taken.map(({ polygons }) => polygons);
}
