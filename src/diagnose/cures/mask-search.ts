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
  replayed: ReplayedClip;
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
  const promise = (shape: Shape): Promising => {
    const key = shape.polygon.join(' ');
    const found = known.get(key) ?? { shape, value: promiseOf(parts, density, shape) };
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
    const scores = Float64Array.from(alike, ({ cells }) => {
      let score = 0;
      for (let cell = 0; cell < CELLS; cell++) if (cells[cell] === 1) score += worth[cell]!;
      return score;
    });
    return Array.from(alike.keys())
      .sort((a, b) => scores[b]! - scores[a]! || alike[a]!.size - alike[b]!.size)
      .slice(0, OF_EACH_SIZE)
      .map((i) => alike[i]!);
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
function promiseOf(parts: readonly SearchPart[], { animals }: Density, { cells, size }: Shape): number {
  let atRest = 0;
  let hotFrames = 0;
  const change = addChanges(
    parts.map(({ replayed, part, hot, now }) => {
      const { minimumArea, persistence, cooldown } = replayed.settings;
      const active = new Uint8Array(replayed.times.length);
      for (const frame of hot) {
        if (staysActive(frame, cells, minimumArea)) active[frame.place] = 1;
        else atRest++;
      }
      hotFrames += hot.length;
      const then = effectOn(part, (k) => active[k] === 1, persistence, busyFor(replayed.camera, cooldown));
      return changeBetween(now, then);
    }),
  );
  const covered = animals.reduce((sum, share, cell) => sum + share * cells[cell]!, 0);
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
  for (const frame of hot) {
    if (!staysActive(frame, cells, minimumArea)) continue;
    active[frame.place] = 1;
    left.push({ place: frame.place, pieces: frame.pieces.flatMap((piece) => cutPiece(piece, cells)) });
  }
  const busy = busyFor(replayed.camera, cooldown);
  return { replayed, part, hot: left, now: effectOn(part, (k) => active[k] === 1, persistence, busy) };
}

function cutPiece({ cells, counts }: HotFrame['pieces'][number], masked: Uint8Array): HotFrame['pieces'] {
  const kept = Array.from(cells.keys()).filter((i) => masked[cells[i]!] === 0);
  if (kept.length === 0) return [];
  return [
    { cells: Uint16Array.from(kept, (i) => cells[i]!), counts: Uint32Array.from(kept, (i) => counts[i]!) },
  ];
}

/** Asked of every frame for every shape that is tried: it looks no further than it must. */
function staysActive({ pieces }: HotFrame, masked: Uint8Array, minimumArea: number): boolean {
  for (const { cells, counts } of pieces) {
    let left = 0;
    for (let i = 0; i < cells.length; i++) {
      if (masked[cells[i]!] !== 0) continue;
      left += counts[i]!;
      if (left >= minimumArea) return true;
    }
  }
  return false;
}
