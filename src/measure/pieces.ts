import { promisify } from 'node:util';
import { deflateRaw, inflateRaw } from 'node:zlib';
import type { Camera } from '../camera/description.js';
import { positions, valueAt } from '../camera/dials.js';
import type { LevelWatch } from '../engine/evidence.js';
import { levelOf } from '../engine/triggers.js';
import type { Cache } from '../store/cache.js';
import { ByteWriter } from '../store/evidence-codec.js';
import { keyOf } from '../store/key.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import type { AreaKind } from '../sweep/columns.js';

const deflate = promisify(deflateRaw);
const inflate = promisify(inflateRaw);

/** Cells that a picture is cut into to tell where it changed. */
export const COLUMNS = 16;
export const ROWS = 12;
export const CELLS = COLUMNS * ROWS;

/** Raised whenever the same differences give other pieces, or these are written in another way. */
const MEANING = 1;
/** Levels that are looked at: of a dial with more positions an even choice. */
const MOST_LEVELS = 12;
/** What is kept of a clip at most: some hours of wind at five frames a second. Of later frames it is not told where they changed. */
const MOST_BYTES = 32 * 2 ** 20;

/** Where a frame changed: each piece of connected pixels as its pixels in each cell that it reaches into. */
export interface PiecesAt {
  /** Its place among the analysed frames. */
  place: number;
  pieces: { cells: readonly number[]; counts: readonly number[] }[];
}

/** What is told of where a clip changed, as far as a camera's dials can ask. */
export interface PieceRules {
  width: number;
  height: number;
  /** Falling. */
  levels: readonly number[];
  /** Pixels of the smallest piece. */
  minimum: number;
  /** Of a camera that counts all changed pixels they are one piece. */
  kind: AreaKind;
}

/** Null where no dial sets the threshold, or none the area: then nothing is to be tuned. */
export function pieceRulesOf(camera: Camera): PieceRules | null {
  const valuesOf = (value: 'threshold' | 'minimumArea') => {
    const dial = Object.values(camera.controls).find(({ sets }) => sets === value);
    return dial && positions(dial).map((position) => valueAt(dial, position));
  };
  const [thresholds, areas] = [valuesOf('threshold'), valuesOf('minimumArea')];
  if (!thresholds || !areas) return null;
  const all = [...new Set(thresholds.map(levelOf))].sort((a, b) => b - a);
  const few = Math.min(all.length, MOST_LEVELS);
  const levels = Array.from({ length: few }, (_, i) =>
    few === 1 ? all[0]! : all[Math.round((i * (all.length - 1)) / (few - 1))]!,
  );
  const { width, height } = camera.analysis;
  const minimum = areas.reduce((least, area) => Math.min(least, area));
  return { width, height, levels, minimum, kind: camera.area };
}

/**
 * Notes where frames changed while their evidence is measured. What is connected only grows as the level falls: a piece that was
 * told at one level is carried on to the next as its pixels in each cell, so that no pixel of it is looked at again.
 */
export class PieceMeter implements LevelWatch {
  readonly wanted = new Uint8Array(256);
  private readonly out = new ByteWriter();
  /** For each position of the padded frame its cell. */
  private readonly cells: Uint8Array;
  /** Places in `tally` of the pieces of one level, by the roots of their sets; -1 where there is none. */
  private readonly slotOf: Int32Array;
  private readonly roots: number[] = [];
  /** The pieces of one level as their places in `tally`, by which of their pixels was placed first. */
  private readonly slots: number[] = [];
  private readonly freeSlots: number[] = [];
  private slotsMade = 0;
  /** A row for each piece, its pixels in each cell; 0 where none has its place. */
  private tally = new Uint32Array(16 * CELLS);
  /** Positions of this frame in the order in which they were placed: of each piece the first, and whatever is in none yet. */
  private readonly carried: Int32Array;
  /** The place in `tally` of the piece that begins there; -1 where it is a pixel that is in none. */
  private readonly carriedSlot: Int32Array;
  private carriedCount = 0;
  /** Pixels of this frame that are carried. */
  private seen = 0;
  private next = 0;
  private isWhole = true;

  constructor(private readonly rules: PieceRules) {
    const { width, height, levels } = rules;
    for (const level of levels) this.wanted[level] = 1;
    this.cells = new Uint8Array((width + 2) * (height + 2));
    for (let y = 0; y < height; y++) {
      const row = Math.floor((y * ROWS) / height) * COLUMNS;
      const at = (y + 1) * (width + 2) + 1;
      for (let x = 0; x < width; x++) this.cells[at + x] = row + Math.floor((x * COLUMNS) / width);
    }
    this.slotOf = new Int32Array(Math.ceil(width / 2) * Math.ceil(height / 2)).fill(-1);
    this.carried = new Int32Array(width * height);
    this.carriedSlot = new Int32Array(width * height);
  }

  take: LevelWatch['take'] = (level, largest, placed, count, connected) => {
    const { slotOf, roots, cells, carried, carriedSlot } = this;
    const { kind, minimum } = this.rules;
    const isOne = kind === 'changed';
    if (this.isFull || (isOne ? count : largest) < minimum) return;
    const before = this.carriedCount;
    const all = before + count - this.seen;
    let kept = 0;
    for (let i = 0; i < all; i++) {
      const at = i < before ? carried[i]! : placed[this.seen + i - before]!;
      const begun = i < before ? carriedSlot[i]! : -1;
      const root = isOne ? 0 : connected.rootAt(at);
      if (!isOne && connected.sizeOf(root) < minimum) {
        carried[kept] = at;
        carriedSlot[kept++] = -1;
        continue;
      }
      let slot = slotOf[root]!;
      if (slot < 0) {
        slot = begun < 0 ? this.newSlot() : begun;
        slotOf[root] = slot;
        roots.push(root);
        this.slots.push(slot);
        carried[kept] = at;
        carriedSlot[kept++] = slot;
      }
      if (begun < 0) this.tally[slot * CELLS + cells[at]!]!++;
      else if (begun !== slot) this.merge(begun, slot);
    }
    this.carriedCount = kept;
    this.seen = count;
    this.write(level);
    for (const root of roots) slotOf[root] = -1;
    roots.length = 0;
    this.slots.length = 0;
  };

  /** Ends a frame; they must come in order from the first. */
  endFrame(frame: number): void {
    if (frame !== this.next) this.isWhole = false;
    this.next = frame + 1;
    if (!this.isFull) this.out.varint(0);
    this.tally.fill(0, 0, this.slotsMade * CELLS);
    this.freeSlots.length = 0;
    this.slotsMade = 0;
    this.carriedCount = 0;
    this.seen = 0;
  }

  /** What was noted, once all frames went by; null where any did not. */
  bytesOf(frames: number): Uint8Array | null {
    return this.isWhole && this.next === frames ? this.out.bytes() : null;
  }

  private get isFull(): boolean {
    return this.out.length > MOST_BYTES;
  }

  private newSlot(): number {
    const slot = this.freeSlots.pop() ?? this.slotsMade++;
    if ((slot + 1) * CELLS > this.tally.length) {
      const larger = new Uint32Array(2 * this.tally.length);
      larger.set(this.tally);
      this.tally = larger;
    }
    return slot;
  }

  private merge(from: number, into: number): void {
    const { tally } = this;
    const [a, b] = [from * CELLS, into * CELLS];
    for (let cell = 0; cell < CELLS; cell++) tally[b + cell]! += tally[a + cell]!;
    tally.fill(0, from * CELLS, (from + 1) * CELLS);
    this.freeSlots.push(from);
  }

  /** The level, its pieces, of each its cells, of each how far it lies from the one before, and its pixels. */
  private write(level: number): void {
    const { out, slots, tally } = this;
    out.varint(level);
    out.varint(slots.length);
    for (const slot of slots) {
      const first = slot * CELLS;
      let reached = 0;
      for (let cell = first; cell < first + CELLS; cell++) if (tally[cell] !== 0) reached++;
      out.varint(reached);
      let last = first;
      for (let cell = first; cell < first + CELLS; cell++) {
        if (tally[cell] === 0) continue;
        out.varint(cell - last);
        out.varint(tally[cell]!);
        last = cell;
      }
    }
  }
}

/** How much of each cell lies within a box, given as fractions of the frame. */
export function cellsUnder([x, y, width, height]: readonly [number, number, number, number]): Float64Array {
  return Float64Array.from({ length: CELLS }, (_, cell) => {
    const [column, row] = [cell % COLUMNS, Math.floor(cell / COLUMNS)];
    const overlap = (from: number, to: number, low: number, high: number) =>
      Math.max(0, Math.min(to, high) - Math.max(from, low));
    return (
      overlap(x, x + width, column / COLUMNS, (column + 1) / COLUMNS) *
      overlap(y, y + height, row / ROWS, (row + 1) / ROWS)
    );
  });
}

/** The name under which they are kept, beside evidence that is kept under a name of its own. */
export function piecesKey(evidence: string, { levels, minimum, kind }: PieceRules): string {
  return keyOf([MEANING, evidence, levels, minimum, kind, COLUMNS, ROWS]);
}

export async function readPieces(cache: Cache, key: string): Promise<Uint8Array | null> {
  const kept = await readSealed(cache, ['pieces', key]);
  return kept && inflate(kept);
}

export async function keepPieces(cache: Cache, key: string, bytes: Uint8Array): Promise<void> {
  await writeSealed(cache, ['pieces', key], await deflate(bytes, { level: 1 }));
}
