import { busyFor } from '../../camera/timing.js';
import { CELLS } from '../../measure/pieces.js';
import type { SweepPart } from '../../sweep/sweep.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { addChanges, changeBetween, type Effect, effectOn } from './effect.js';
import { MOST_MASKS } from './mask-effect.js';
import type { Density, HotFrame } from './mask-hot.js';
import { neighboursOf, overlap, type Shape, shapes } from './mask-shapes.js';

/** One clip as far as masks are sought on it. */
export interface SearchPart {
  replayed: Pick<ReplayedClip, 'camera' | 'settings' | 'times'>;
  part: SweepPart;
  hot: readonly HotFrame[];
  /** What the settings do now. */
  now: Effect;
}

/** Shares of the picture up to which masks are compared among themselves: small ones are not to be crowded out. */
const SIZES = [0.03, 0.06, 0.12, 0.2, 0.35, 0.5];
/** How many of each size are looked at more closely. */
const OF_EACH_SIZE = 16;
/** What covering animals costs against covering what fires falsely. */
const ANIMAL_PRICE = 2;
/** What a share of frames that come to rest counts for beside a share of false triggers removed. */
const REST = 0.3;
/** Masks that share more than this are alike; the search goes on from the best few that are not, so many steps each. */
export const ALIKE = 0.6;
const CLIMBS = 4;
const STEPS = 8;

interface Promising {
  shape: Shape;
  /** The higher the more it promises. */
  value: number;
}

/**
 * The masks most likely to keep a camera from firing falsely without hiding animals, from the parts of clips that
 * cures are found on. All shapes are ranked by how much of either lies under them, the best of each size by a replay
 * in which pieces are cut along cells, and the best of these are bettered corner by corner. That replay is near the
 * truth, not exact: what is found is still to be measured.
 */
export function promisingMasks(parts: readonly SearchPart[], density: Density): Shape[] {
  const known = new Map<string, Promising>();
  const laidOut = parts.map((part) => ({ ...part, laid: layOut(part) }));
  const promise = (shape: Shape): Promising => {
    const key = shape.polygon.join(' ');
    const found = known.get(key) ?? { shape, value: promiseOf(laidOut, density, shape) };
    known.set(key, found);
    return found;
  };
  const seeds = unlike(bestOfEachSize(density).map(promise));
  const climbed = seeds.slice(0, CLIMBS).map((seed) => climb(seed, promise));
  return unlike([...climbed, ...seeds])
    .slice(0, MOST_MASKS)
    .map(({ shape }) => shape);
}

/** The best first, without those that are much like a better one or promise nothing. */
function unlike(found: readonly Promising[]): Promising[] {
  const kept: Promising[] = [];
  for (const next of [...found].sort((a, b) => b.value - a.value || a.shape.size - b.shape.size)) {
    if (next.value > 0 && kept.every(({ shape }) => overlap(shape, next.shape) < ALIKE)) kept.push(next);
  }
  return kept;
}

function climb(seed: Promising, promise: (shape: Shape) => Promising): Promising {
  let best = seed;
  for (let step = 0; step < STEPS; step++) {
    const next = neighboursOf(best.shape)
      .map(promise)
      .reduce((a, b) => (b.value > a.value ? b : a), best);
    if (next === best) break;
    best = next;
  }
  return best;
}

function bestOfEachSize({ nothing, animals }: Density): Shape[] {
  const worth = nothing.map((share, cell) => share - ANIMAL_PRICE * animals[cell]!);
  return shapesOfEachSize().flatMap((alike) => {
    const best: { shape: Shape; score: number }[] = [];
    for (const shape of alike) {
      const { under } = shape;
      let score = 0;
      for (let i = 0; i < under.length; i++) score += worth[under[i]!]!;
      const isBehind = ({ shape: other, score: most }: (typeof best)[number]) =>
        most > score || (most === score && other.size <= shape.size);
      if (best.length === OF_EACH_SIZE && isBehind(best[OF_EACH_SIZE - 1]!)) continue;
      let place = best.length;
      while (place > 0 && !isBehind(best[place - 1]!)) place--;
      best.splice(place, 0, { shape, score });
      best.length = Math.min(best.length, OF_EACH_SIZE);
    }
    return best.map(({ shape }) => shape);
  });
}

function shapesOfEachSize(): readonly (readonly Shape[])[] {
  sorted ??= SIZES.map((size, i) =>
    shapes().filter((shape) => shape.size <= size * CELLS && shape.size > (SIZES[i - 1] ?? 0) * CELLS),
  );
  return sorted;
}

let sorted: readonly (readonly Shape[])[] | null = null;

/** The share of false triggers removed and of frames brought to rest, less that of visits lost and animals covered. */
function promiseOf(
  parts: readonly (SearchPart & { laid: LaidOut })[],
  { animals }: Density,
  { cells, under, size }: Shape,
): number {
  let atRest = 0;
  let hotFrames = 0;
  const change = addChanges(
    parts.map(({ replayed, part, now, laid }) => {
      const { minimumArea, persistence, cooldown } = replayed.settings;
      const { places, active } = laid;
      for (let frame = 0; frame < places.length; frame++) {
        const isActive = staysActive(laid, frame, cells, minimumArea);
        active[places[frame]! - part.from] = isActive ? 1 : 0;
        if (!isActive) atRest++;
      }
      hotFrames += places.length;
      const isActive = (k: number) => active[k - part.from] === 1;
      return changeBetween(now, effectOn(part, isActive, persistence, busyFor(replayed.camera, cooldown)));
    }),
  );
  let covered = 0;
  for (const cell of under) covered += animals[cell]!;
  const share = (n: number, of: number) => (of === 0 ? 0 : n / of);
  return (
    share(change.falseRemoved, change.falseTriggers) -
    ANIMAL_PRICE * share(change.visitsLost, change.caught) +
    REST * (share(atRest, hotFrames) - covered) -
    // Of masks that are otherwise equally good, the smaller.
    (0.01 * size) / CELLS
  );
}

/** A part as it is once a mask is in place, as near as cells tell. */
export function underShape({ replayed, part, hot }: SearchPart, { cells }: Pick<Shape, 'cells'>): SearchPart {
  const { minimumArea, persistence, cooldown } = replayed.settings;
  const active = new Uint8Array(replayed.times.length);
  const left: HotFrame[] = [];
  const laid = layOut({ replayed, part, hot });
  for (const [i, frame] of hot.entries()) {
    if (!staysActive(laid, i, cells, minimumArea)) continue;
    active[frame.place] = 1;
    left.push({ place: frame.place, pieces: frame.pieces.flatMap((piece) => cutPiece(piece, cells)) });
  }
  const busy = busyFor(replayed.camera, cooldown);
  return { replayed, part, hot: left, now: effectOn(part, (k) => active[k] === 1, persistence, busy) };
}

function cutPiece({ cells, counts }: HotFrame['pieces'][number], masked: Uint8Array): HotFrame['pieces'] {
  const left = { cells: [] as number[], counts: [] as number[] };
  for (let i = 0; i < cells.length; i++) {
    if (masked[cells[i]!] !== 0) continue;
    left.cells.push(cells[i]!);
    left.counts.push(counts[i]!);
  }
  return left.cells.length === 0 ? [] : [left];
}

/** Hot frames end to end, for they are gone through for every shape that is tried. */
interface LaidOut {
  /** Of each frame its place among the clip's analysed ones. */
  places: Uint32Array;
  /** Of each frame its first piece, and of each piece its first cell; behind the last one where that would begin. */
  pieceAt: Uint32Array;
  cellAt: Uint32Array;
  cells: Uint8Array;
  /** Pixels of a piece in each of its cells. */
  counts: Uint32Array;
  /** One byte for each frame of the part, to be filled anew for each shape: those that are not hot stay 0. */
  active: Uint8Array;
}

/** Pieces that are too small with no mask at all are left out. */
function layOut({ replayed, part, hot }: Pick<SearchPart, 'replayed' | 'part' | 'hot'>): LaidOut {
  const { minimumArea } = replayed.settings;
  let [pieces, reached] = [0, 0];
  for (const frame of hot) {
    pieces += frame.pieces.length;
    for (const { cells } of frame.pieces) reached += cells.length;
  }
  const places = new Uint32Array(hot.length);
  const pieceAt = new Uint32Array(hot.length + 1);
  const cellAt = new Uint32Array(pieces + 1);
  const cells = new Uint8Array(reached);
  const counts = new Uint32Array(reached);
  let [piece, end] = [0, 0];
  for (let f = 0; f < hot.length; f++) {
    const frame = hot[f]!;
    places[f] = frame.place;
    for (const one of frame.pieces) {
      let size = 0;
      for (let i = 0; i < one.cells.length; i++) {
        size += one.counts[i]!;
        cells[end + i] = one.cells[i]!;
        counts[end + i] = one.counts[i]!;
      }
      if (size < minimumArea) continue;
      end += one.cells.length;
      cellAt[++piece] = end;
    }
    pieceAt[f + 1] = piece;
  }
  return { places, pieceAt, cellAt, cells, counts, active: new Uint8Array(part.times.length) };
}

/** It looks no further than it must. */
function staysActive(
  { pieceAt, cellAt, cells, counts }: LaidOut,
  frame: number,
  masked: Uint8Array,
  minimumArea: number,
): boolean {
  for (let piece = pieceAt[frame]!; piece < pieceAt[frame + 1]!; piece++) {
    let left = 0;
    for (let i = cellAt[piece]!; i < cellAt[piece + 1]!; i++) {
      if (masked[cells[i]!] !== 0) continue;
      left += counts[i]!;
      if (left >= minimumArea) return true;
    }
  }
  return false;
}
