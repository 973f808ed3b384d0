import type { AreaKind } from '../sweep/columns.js';

/** What one frame showed: both arrays hold 256 counts, the index being the level; they never fall as the level falls. */
export interface EvidenceRow {
  /** Pixels that changed by at least the level. */
  changed: Uint32Array;
  /** The largest connected region among them. */
  region: Uint32Array;
}

/** Bytes that grow as they are written; varints are little-endian base 128. */
export class ByteWriter {
  #bytes = new Uint8Array(1 << 16);
  #length = 0;

  /** Bytes as they are. */
  append(bytes: Uint8Array): void {
    this.#makeRoom(bytes.length);
    this.#bytes.set(bytes, this.#length);
    this.#length += bytes.length;
  }

  varint(value: number): void {
    this.#makeRoom(5);
    let rest = value;
    while (rest > 127) {
      this.#bytes[this.#length++] = (rest & 127) | 128;
      rest >>>= 7;
    }
    this.#bytes[this.#length++] = rest;
  }

  #makeRoom(more: number): void {
    const needed = this.#length + more;
    if (needed <= this.#bytes.length) return;
    const larger = new Uint8Array(Math.max(needed, this.#bytes.length * 2));
    larger.set(this.#bytes);
    this.#bytes = larger;
  }

  get length(): number {
    return this.#length;
  }

  /** What was written so far; valid until the next write. */
  bytes(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }

  clear(): void {
    this.#length = 0;
  }
}

/**
 * Writes one frame: for changed, then for region, the number of steps and each step as the levels fall from 255 to the
 * floor: how many levels further down it lies, and by how much the count rises there. A still frame takes two bytes.
 */
export function encodeRow(out: ByteWriter, row: EvidenceRow, floor: number): void {
  encodeCounts(out, row.changed, floor);
  encodeCounts(out, row.region, floor);
}

/** Writes one kind of count of one frame, as `encodeRow` writes both. */
export function encodeCounts(out: ByteWriter, counts: Uint32Array, floor: number): void {
  let steps = 0;
  let last = 0;
  for (let level = 255; level >= floor; level--) {
    const count = counts[level]!;
    if (count < last) throw new RangeError(`counts fall from ${last} to ${count} at level ${level}`);
    if (count > last) steps++;
    last = count;
  }
  out.varint(steps);
  last = 0;
  let above = 256;
  for (let level = 255; level >= floor; level--) {
    const count = counts[level]!;
    if (count === last) continue;
    out.varint(above - level);
    out.varint(count - last);
    above = level;
    last = count;
  }
}

/** In the order in which a frame's counts are written. */
const kinds = ['changed', 'region'] as const;

/**
 * Reads the counts at some levels out of encoded frames.
 * @param levels falling
 * @param into of each kind that is wanted one array per level; frame i of the bytes goes to index first + i
 * @param held the kinds that the bytes hold of each frame
 * @returns false when the bytes do not hold exactly `frames` frames
 */
export function decodeColumns(
  bytes: Uint8Array,
  frames: number,
  first: number,
  levels: readonly number[],
  into: Partial<Record<AreaKind, readonly Uint32Array[]>>,
  held: readonly AreaKind[] = kinds,
): boolean {
  let at = 0;
  const varint = (): number => {
    let value = 0;
    for (let scale = 1; ; scale *= 128) {
      const byte = bytes[at++];
      if (byte === undefined) return Number.NaN;
      value += (byte & 127) * scale;
      if (byte < 128) return value;
    }
  };
  for (let i = 0; i < frames; i++) {
    for (const kind of held) {
      const wanted = into[kind];
      const steps = varint();
      if (Number.isNaN(steps)) return false;
      let level = 256;
      let count = 0;
      let next = 0;
      for (let step = 0; step < steps; step++) {
        level -= varint();
        const rise = varint();
        if (!(level >= 0) || Number.isNaN(rise)) return false;
        if (wanted) {
          while (next < levels.length && levels[next]! > level) wanted[next++]![first + i] = count;
        }
        count += rise;
      }
      if (wanted) {
        while (next < levels.length) wanted[next++]![first + i] = count;
      }
    }
  }
  return at === bytes.length;
}
