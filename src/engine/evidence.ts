import { JoinedSets } from './sets.js';

/** Areas of one frame for every level; reused between calls. */
export interface FrameEvidence {
  /** 256 entries: at index t the number of pixels with a difference of t or more. [0] is unused. */
  readonly changed: Uint32Array;
  /** 256 entries: at index t the size of the largest 8-connected set of those pixels. [0] is unused. */
  readonly region: Uint32Array;
}

/** A mask as a meter of one size takes it: 1 where not watched, one pixel more all round. */
export type PaddedMask = Uint8Array & { readonly padded: unique symbol };

/** Asked at some levels, from the highest down, for what is connected there. */
export interface LevelWatch {
  /** 256 entries: not 0 at the levels that are looked at. */
  readonly wanted: Uint8Array;
  /**
   * @param largest pixels of the largest set
   * @param placed the pixels of this level and of those above as positions in the padded frame, `count` of them
   * @param setOf for each position its set
   * @param sets their roots, and the sizes of these in pixels
   */
  take(
    level: number,
    largest: number,
    placed: Int32Array,
    count: number,
    setOf: Int32Array,
    sets: Pick<JoinedSets, 'rootOf' | 'size'>,
  ): void;
}

const LEVELS = 256;

/** A pixel and its neighbours, row by row; the index of each is its bit in a neighbourhood. */
const BLOCK = [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((x) => ({ x, y })));
const CENTRE = 1 << 4;

/**
 * The areas of a difference image at all thresholds, in one pass.
 *
 * Pixels are placed in falling order of difference (counting sort), each joined with the neighbours placed before it,
 * and the largest set is noted when a level is done: the component tree of Najman & Couprie (2006, IEEE TIP
 * 15:3531-3539), of which only the largest node at each level is kept.
 *
 * What makes it fast: sets are kept over local maxima, not over pixels, for a pixel with a placed neighbour takes over
 * that neighbour's set, so that the table of sets is short. Placed neighbours that touch one another are joined already,
 * so one look-up serves them all. Pixels below the floor are skipped four at a time. And what a processor cannot predict
 * is done alike for every pixel instead of asked: each is sorted, also where it is below the floor; each begins a set,
 * though it keeps none where it has neighbours; each looks two neighbours up, though most have one.
 */
export class EvidenceMeter {
  private readonly evidence = noEvidence();
  /** The same of what a mask leaves, and that in falling order. */
  private readonly masked = noEvidence();
  private readonly left: Int32Array;
  /** Whether the regions of all that changed are worked out by now. */
  private isJoined = false;
  /** The difference, each row followed by zeros up to a whole number of words. */
  private readonly words: Int32Array;
  private readonly bytes: Uint8Array;
  /** Words of a row. */
  private readonly across: number;
  /** Pixels of each level, but for words that are calm. */
  private readonly pixelsAt = new Int32Array(LEVELS);
  /** Where each level's pixels go next in `order`, which holds positions in the padded frame. */
  private readonly next = new Int32Array(LEVELS);
  private readonly order: Int32Array;
  /** Width of the padded frame: one pixel more all round, so that no neighbour needs a bounds test. */
  private readonly stride: number;
  /** For each padded position, three bits: whether the pixel to its left, it, and the pixel to its right are placed. */
  private readonly placed: Uint8Array;
  /** For each padded position that is placed, its set. */
  private readonly setOf: Int32Array;
  private readonly sets: JoinedSets;
  /** For each neighbourhood: the offset of one placed neighbour, that of the pixel itself where there is none; ... */
  private readonly offset = new Int32Array(2 * LEVELS);
  /** ... the neighbourhood without that neighbour and those that touch it, directly or through others; ... */
  private readonly rest: Uint16Array;
  /** ... the offset of a neighbour in the rest, or once more the first where nothing is left; ... */
  private readonly second = new Int32Array(2 * LEVELS);
  /** ... and the rest of that rest. */
  private readonly third = new Uint16Array(2 * LEVELS);

  /**
   * @param width in pixels
   * @param height in pixels
   * @param floor the lowest level wanted, 1 to 255; lower levels hold 0 and cost next to nothing
   */
  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly floor: number = 1,
  ) {
    const pixels = width * height;
    this.across = Math.ceil(width / 4);
    this.words = new Int32Array(this.across * height);
    this.bytes = new Uint8Array(this.words.buffer);
    this.order = new Int32Array(this.bytes.length);
    this.left = new Int32Array(pixels);
    this.stride = width + 2;
    this.placed = new Uint8Array(this.stride * (height + 2));
    this.setOf = new Int32Array(this.placed.length);
    // Of the four pixels of a 2 by 2 block at most one keeps the set that it begins: the others touch it.
    this.sets = new JoinedSets(Math.ceil(width / 2) * Math.ceil(height / 2));
    this.rest = restOf();
    for (let near = 1; near < 2 * LEVELS; near++) {
      const index = lowestBit(near & ~CENTRE);
      if (index >= 0) this.offset[near] = BLOCK[index]!.y * this.stride + BLOCK[index]!.x;
    }
    for (let near = 1; near < 2 * LEVELS; near++) {
      const rest = this.rest[near]!;
      this.second[near] = this.offset[rest === 0 ? near : rest]!;
      this.third[near] = this.rest[rest]!;
    }
  }

  /**
   * @param difference `width * height` bytes, rows from the top
   * @returns the same object at every call
   */
  measure(difference: Uint8Array): FrameEvidence {
    this.take(difference);
    return this.areas();
  }

  /** Takes a difference in, to be asked for its areas under one mask after another: counting and sorting serve all. */
  take(difference: Uint8Array): void {
    this.copy(difference);
    this.count();
    this.sort();
    this.isJoined = false;
  }

  /**
   * Areas of the difference taken in last.
   * @returns the same object at every call
   */
  areas(watch?: LevelWatch): FrameEvidence {
    if (!this.isJoined || watch) this.join(this.order, this.evidence, watch);
    this.isJoined = true;
    return this.evidence;
  }

  /**
   * The same as a mask leaves them. Costs as much as the mask leaves, and next to nothing where it hides nothing that changed.
   * @param mask as `maskFor` of this meter gives it
   * @returns an object that the next call may give again
   */
  areasUnder(mask: PaddedMask, watch?: LevelWatch): FrameEvidence {
    const { order, left, masked, floor } = this;
    const { changed } = this.evidence;
    const all = changed[floor]!;
    let n = 0;
    let k = 0;
    for (let level = LEVELS - 1; level >= floor; level--) {
      for (const end = changed[level]!; k < end; k++) {
        const at = order[k]!;
        left[n] = at;
        n += 1 - mask[at]!;
      }
      masked.changed[level] = n;
    }
    if (n === all) return this.areas(watch);
    this.join(left, masked, watch);
    return masked;
  }

  /** @param mask `width * height` bytes, not 0 where not watched */
  maskFor(mask: Uint8Array): PaddedMask {
    const { width, height, stride } = this;
    const padded = new Uint8Array(stride * (height + 2));
    for (let y = 0, i = 0; y < height; y++) {
      for (let at = (y + 1) * stride + 1, end = at + width; at < end; at++, i++)
        padded[at] = Number(mask[i] !== 0);
    }
    return padded as PaddedMask;
  }

  private copy(difference: Uint8Array): void {
    const { bytes, width, height, across } = this;
    if (bytes.length === difference.length) {
      bytes.set(difference);
      return;
    }
    for (let y = 0; y < height; y++) {
      bytes.set(difference.subarray(y * width, (y + 1) * width), 4 * y * across);
    }
  }

  private count(): void {
    const { words, pixelsAt, next, floor } = this;
    const { changed } = this.evidence;
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
    const { words, bytes, order, next, height, stride, across, floor } = this;
    const lift = liftOf(floor);
    for (let y = 0, i = 0; y < height; y++) {
      let at = (y + 1) * stride + 1;
      for (const end = i + across; i < end; i++, at += 4) {
        if (isCalm(words[i]!, lift)) continue;
        const byte = 4 * i;
        order[next[bytes[byte]!]!++] = at;
        order[next[bytes[byte + 1]!]!++] = at + 1;
        order[next[bytes[byte + 2]!]!++] = at + 2;
        order[next[bytes[byte + 3]!]!++] = at + 3;
      }
    }
  }

  private join(order: Int32Array, { changed, region }: FrameEvidence, watch?: LevelWatch): void {
    const { placed, setOf, sets, offset, rest, second, third, stride, floor } = this;
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
        let root = rootOf[setOf[at + offset[near]!]!]!;
        const other = rootOf[setOf[at + second[near]!]!]!;
        if (other !== root) root = sets.join(root, other);
        for (let left = third[near]!; left !== 0; left = rest[left]!) {
          const another = rootOf[setOf[at + offset[left]!]!]!;
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
      if (watch?.wanted[level]) watch.take(level, largest, order, k, setOf, sets);
    }
  }
}

function noEvidence(): FrameEvidence {
  return { changed: new Uint32Array(LEVELS), region: new Uint32Array(LEVELS) };
}

/** What carries a byte of `floor` or more, up to 128, into its top bit, for the four bytes of a word. */
function liftOf(floor: number): number {
  return Math.imul(128 - Math.min(floor, 128), 0x01010101);
}

/** Whether all four bytes of the word lie below the floor (or below 128, where the floor is higher). */
function isCalm(word: number, lift: number): boolean {
  return ((((word & 0x7f7f7f7f) + lift) | word) & 0x80808080) === 0;
}

let rest: Uint16Array | null = null;

/** The same for frames of any size, so it is worked out once: a meter for each of many boxes costs next to nothing. */
function restOf(): Uint16Array {
  if (rest) return rest;
  rest = new Uint16Array(2 * LEVELS);
  for (let near = 1; near < 2 * LEVELS; near++) {
    const neighbours = near & ~CENTRE;
    const index = lowestBit(neighbours);
    if (index >= 0) rest[near] = neighbours & ~groupOf(index, neighbours);
  }
  return rest;
}

function lowestBit(bits: number): number {
  return 31 - Math.clz32(bits & -bits);
}

/** The neighbours among `near` that neighbour `seed` touches, directly or through others of them. */
function groupOf(seed: number, near: number): number {
  const isIn = (group: number, index: number) => (group & (1 << index)) !== 0;
  let group = 1 << seed;
  for (let before = 0; before !== group; ) {
    before = group;
    BLOCK.forEach((a, i) => {
      const touches = BLOCK.some(
        (b, j) => isIn(before, j) && Math.abs(a.x - b.x) < 2 && Math.abs(a.y - b.y) < 2,
      );
      if (isIn(near, i) && touches) group |= 1 << i;
    });
  }
  return group;
}
