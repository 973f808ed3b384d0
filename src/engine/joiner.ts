import { type LookUps, lookUps } from './neighbourhoods.js';
import { JoinedSets } from './sets.js';
import { LITTLE_ENDIAN } from './words.js';

export const LEVELS = 256;

/** Pixels in falling order of difference, as positions in the padded frame, with the areas that follow from it. */
export interface Sorted {
  readonly order: Int32Array;
  /** 256 entries: at index t the number of pixels with a difference of t or more. */
  readonly changed: Uint32Array;
  /** 256 entries: at index t the size of the largest 8-connected set of those pixels. */
  readonly region: Uint32Array;
}

/** What is connected at some level. */
export interface Connected {
  /** The set of a placed position: a number below that of the frame's blocks of 2 by 2 pixels. */
  rootAt(position: number): number;
  /** Pixels in a set. */
  sizeOf(root: number): number;
  /**
   * The pieces that the watch asks to be told, in the order of their first pixels, as varints (little-endian, base 128): how many,
   * of each its cells, of each of these how far it lies from the one before (the first from 0), and its pixels. Absent where the
   * watch is to find them by itself. Overwritten with the next.
   */
  tell?(): Uint8Array;
}

/** Pieces of connected pixels that are to be told as their pixels in each cell of the frame. */
export interface PiecesToTell {
  /** For each position of the padded frame its cell. */
  readonly cells: Uint8Array;
  /** Pixels of the smallest piece. */
  readonly minimum: number;
  /** Whether all that changed is one piece, connected or not. */
  readonly isOne: boolean;
}

/** Asked at some levels, from the highest down, for what is connected there. */
export interface LevelWatch {
  /** 256 entries: not 0 at the levels that are looked at. */
  readonly wanted: Uint8Array;
  /** Told by joiners that can, where they were made for it. */
  readonly pieces?: PiecesToTell;
  /**
   * @param largest pixels of the largest set
   * @param placed the pixels of this level and of those above as positions in the padded frame, `count` of them
   * @param connected holds until this returns
   */
  take(level: number, largest: number, placed: Int32Array, count: number, connected: Connected): void;
}

/** Sorts the pixels of a difference by their levels, and joins them level by level. */
export interface Joiner {
  /** All that changed; its regions are there once it was joined. */
  readonly all: Sorted;
  /** Room for some of it, in the same order, to be filled by whoever wants that joined. */
  readonly left: Sorted;
  /** @param difference `width * height` bytes, rows from the top */
  take(difference: Uint8Array): void;
  /** @param sorted `all` or `left`, of which all but `region` is there */
  join(sorted: Sorted, watch?: LevelWatch): void;
}

/** Which pixel of a word is in its lowest byte, and in those above. */
const [LOWEST, LOW, HIGH, HIGHEST] = LITTLE_ENDIAN ? ([0, 1, 2, 3] as const) : ([3, 2, 1, 0] as const);

/**
 * What makes it fast: sets are kept over local maxima, not over pixels, for a pixel with a placed neighbour takes over
 * that neighbour's set, so that the table of sets is short. Placed neighbours that touch one another are joined already,
 * so one look-up serves them all. Pixels below the floor are skipped four at a time. And what a processor cannot predict
 * is done alike for every pixel instead of asked: each is sorted, also where it is below the floor; each begins a set,
 * though it keeps none where it has neighbours; each looks two neighbours up, though most have one.
 */
export class PlainJoiner implements Joiner, Connected {
  readonly all: Sorted;
  readonly left: Sorted;
  /** The difference, each row followed by zeros up to a whole number of words. */
  private readonly words: Int32Array;
  /** Words of a row. */
  private readonly across: number;
  /** Pixels of each level, but for words that are calm. */
  private readonly pixelsAt = new Int32Array(LEVELS);
  /** Where each level's pixels go next in the order. */
  private readonly next = new Int32Array(LEVELS);
  /** Width of the padded frame: one pixel more all round, so that no neighbour needs a bounds test. */
  private readonly stride: number;
  /** For each padded position, three bits: whether the pixel to its left, it, and the pixel to its right are placed. */
  private readonly placed: Uint8Array;
  /** For each padded position that is placed, its set. */
  private readonly setOf: Int32Array;
  private readonly sets: JoinedSets;
  private readonly lookUps: LookUps;

  /** @param floor the lowest level wanted, 1 to 255 */
  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly floor: number,
  ) {
    this.across = Math.ceil(width / 4);
    this.words = new Int32Array(this.across * height);
    this.all = sorted(4 * this.words.length);
    this.left = sorted(4 * this.words.length);
    this.stride = width + 2;
    this.placed = new Uint8Array(this.stride * (height + 2));
    this.setOf = new Int32Array(this.placed.length);
    // Of the four pixels of a 2 by 2 block at most one keeps the set that it begins: the others touch it.
    this.sets = new JoinedSets(Math.ceil(width / 2) * Math.ceil(height / 2));
    this.lookUps = lookUps(this.stride);
  }

  take(difference: Uint8Array): void {
    copyRows(difference, new Uint8Array(this.words.buffer), this.width, this.height);
    this.count();
    this.sort();
  }

  rootAt(position: number): number {
    return this.sets.rootOf[this.setOf[position]!]!;
  }

  sizeOf(root: number): number {
    return this.sets.size[root]!;
  }

  join({ order, changed, region }: Sorted, watch?: LevelWatch): void {
    const { placed, setOf, sets, stride, floor } = this;
    const { first, rest, second, third } = this.lookUps;
    const { rootOf, size } = sets;
    placed.fill(0);
    if (changed[floor]! > 0) sets.clear();
    let kept = 0;
    let largest = 0;
    let k = 0;
    for (let level = LEVELS - 1; level >= floor; level--) {
      for (const end = changed[level]!; k < end; k++) {
        const at = order[k]!;
        const here = placed[at]!;
        const near = placed[at - stride]! | (here << 3) | (placed[at + stride]! << 6);
        placed[at - 1]! |= 4;
        placed[at] = here | 2;
        placed[at + 1]! |= 1;
        setOf[at] = kept;
        // One more where there is no neighbour.
        kept += (near - 1) >>> 31;
        let root = rootOf[setOf[at + first[near]!]!]!;
        const other = rootOf[setOf[at + second[near]!]!]!;
        if (other !== root) root = sets.join(root, other);
        for (let left = third[near]!; left !== 0; left = rest[left]!) {
          const another = rootOf[setOf[at + first[left]!]!]!;
          if (another !== root) root = sets.join(root, another);
        }
        setOf[at] = root;
        const grown = size[root]! + 1;
        size[root] = grown;
        const more = grown - largest;
        // Nothing where it is negative.
        largest += more & ~(more >> 31);
      }
      region[level] = largest;
      if (watch?.wanted[level]) watch.take(level, largest, order, k, this);
    }
  }

  private count(): void {
    const { words, pixelsAt, next, floor } = this;
    const { changed } = this.all;
    const lift = liftOf(floor);
    pixelsAt.fill(0);
    for (let i = 0; i < words.length; i++) {
      const word = words[i]!;
      if (isCalm(word, lift)) continue;
      pixelsAt[word & 255]!++;
      pixelsAt[(word >>> 8) & 255]!++;
      pixelsAt[(word >>> 16) & 255]!++;
      pixelsAt[word >>> 24]!++;
    }
    let above = 0;
    for (let level = LEVELS - 1; level >= 0; level--) {
      next[level] = above;
      above += pixelsAt[level]!;
      changed[level] = level < floor ? 0 : above;
    }
  }

  /** Levels below the floor are sorted with the rest, to the end, where nobody looks. */
  private sort(): void {
    const { words, next, height, stride, across, floor } = this;
    const { order } = this.all;
    const lift = liftOf(floor);
    for (let y = 0, i = 0; y < height; y++) {
      let at = (y + 1) * stride + 1;
      for (const end = i + across; i < end; i++, at += 4) {
        const word = words[i]!;
        if (isCalm(word, lift)) continue;
        order[next[word & 255]!++] = at + LOWEST;
        order[next[(word >>> 8) & 255]!++] = at + LOW;
        order[next[(word >>> 16) & 255]!++] = at + HIGH;
        order[next[word >>> 24]!++] = at + HIGHEST;
      }
    }
  }
}

/** Rows one after the other to rows of whole words. */
export function copyRows(from: Uint8Array, to: Uint8Array, width: number, height: number): void {
  if (from.length === to.length) {
    to.set(from);
    return;
  }
  const across = to.length / height;
  for (let y = 0; y < height; y++) to.set(from.subarray(y * width, (y + 1) * width), y * across);
}

function sorted(pixels: number): Sorted {
  return {
    order: new Int32Array(pixels),
    changed: new Uint32Array(LEVELS),
    region: new Uint32Array(LEVELS),
  };
}

/** What carries a byte of `floor` or more, up to 128, into its top bit, for the four bytes of a word. */
function liftOf(floor: number): number {
  return Math.imul(128 - Math.min(floor, 128), 0x01010101);
}

/** Whether all four bytes of the word lie below the floor (or below 128, where the floor is higher). */
function isCalm(word: number, lift: number): boolean {
  return ((((word & 0x7f7f7f7f) + lift) | word) & 0x80808080) === 0;
}
