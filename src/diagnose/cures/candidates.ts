import type { Camera } from '../../camera/description.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import { busyFor } from '../../camera/timing.js';
import type { Polygon } from '../../engine/mask.js';
import { CELLS } from '../../measure/pieces.js';
import type { Stirred } from '../../measure/stirring.js';
import type { SweepPart } from '../../sweep/sweep.js';
import { effectOn } from './effect.js';
import { densityOf, hotFramesNoted } from './mask-hot.js';
import { promisingMasks, type SearchPart, underShape } from './mask-search.js';
import { overlap, type Shape } from './mask-shapes.js';
import { hidesNothing } from './masks.js';

/** One clip of a site, with where it changed and the stretches that masks are sought on. */
export interface Sought {
  /** Of its analysed frames, seconds. */
  times: Float64Array;
  /** At the level of the settings. */
  stirred: Stirred;
  parts: readonly SweepPart[];
}

/** Polygons that are added one after the other, as few as one draws by hand: a branch, a tuft of grass, a path. */
const MOST_POLYGONS = 3;
/** More than this share of the picture is never masked. */
const MOST_MASKED = 0.5;
/** Masks tried at most of one search. */
const MOST_TRIED = 3;
/** Masks that share more than this are tried once. */
const SAME = 0.75;

/** Polygons over one site, and the cells under them. */
export interface Several extends Pick<Shape, 'cells' | 'size'> {
  polygons: Polygon[];
}

/**
 * The masks of one polygon, of two and of three that promise most: each is the one before with one more, sought where that
 * one no longer hides anything. No polygon lies where animals come and go.
 * @param clips of one site
 * @param settings that fire however much changes in all
 */
export function masksSought(
  clips: readonly Sought[],
  camera: Camera,
  settings: ResolvedSettings,
): readonly Several[] {
  const found: Several[] = [];
  let last: Several = { polygons: [], cells: new Uint8Array(CELLS), size: 0 };
  let left = clips.flatMap((clip) => partsUnder(clip, camera, settings));
  while (found.length < MOST_POLYGONS && left.some(({ now }) => now.falseTriggers > 0)) {
    const next = oneMore(left, last);
    if (!next) break;
    last = withOneMore(last, next);
    left = left.map((part) => underShape(part, next));
    found.push(last);
  }
  return found;
}

function partsUnder(
  { times, stirred, parts }: Sought,
  camera: Camera,
  settings: ResolvedSettings,
): SearchPart[] {
  const { minimumArea, persistence, cooldown } = settings;
  const replayed = { camera, settings, times };
  const hot = hotFramesNoted(stirred, minimumArea);
  const active = new Uint8Array(times.length);
  for (const { place } of hot) active[place] = 1;
  const busy = busyFor(camera, cooldown);
  return parts.map((part) => ({
    replayed,
    part,
    hot: hot.filter(({ place }) => place >= part.from && place < part.from + part.times.length),
    now: effectOn(part, (k) => active[k] === 1, persistence, busy),
  }));
}

function oneMore(left: readonly SearchPart[], last: Several): Shape | undefined {
  const density = densityOf(left);
  return promisingMasks(left, density)
    .filter((shape) => hidesNothing(shape, density))
    .find((shape) => withOneMore(last, shape).size <= MOST_MASKED * CELLS);
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
 * The few masks to be tried of those found under several settings: those worth most, none much like one before.
 * @param worthUnder what settings and a mask over these cells are worth at best
 */
export async function fewOf(
  masks: readonly Several[],
  worthUnder: (cells: Uint8Array) => Promise<number>,
): Promise<Polygon[][]> {
  const ranked: { mask: Several; worth: number }[] = [];
  for (const mask of masks) ranked.push({ mask, worth: await worthUnder(mask.cells) });
  ranked.sort((a, b) => b.worth - a.worth);
  const taken: Several[] = [];
  for (const { mask } of ranked) {
    if (taken.length === MOST_TRIED) break;
    if (taken.every((other) => overlap(other, mask) <= SAME)) taken.push(mask);
  }
  return taken.map(({ polygons }) => polygons);
}
