import { EvidenceMeter } from '../engine/evidence.js';
import { type Box, type PixelBox, withinBox } from '../score/box.js';
import type { Truth } from '../score/truth.js';
import type { Cache } from '../store/cache.js';
import { ByteWriter, decodeColumns, encodeCounts } from '../store/evidence-codec.js';
import { keyOf } from '../store/key.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import type { AreaKind, BoxSource } from '../sweep/columns.js';
import { NO_ROW, type Outcomes } from '../sweep/outcomes.js';

/** Raised whenever the same differences and boxes give other areas. */
const MEANING = 1;

/**
 * What is to be measured to tell visits caught by luck: for each row a frame at which a trigger would show a visit, and
 * that visit's box. Frames rise; visits that overlap have rows of their own.
 */
export interface BoxRows {
  frames: Uint32Array;
  /** For each row its visit, by its place among the boxes. */
  visits: Uint32Array;
  /** For each visit its box; null where the labels give none. */
  boxes: readonly (Box | null)[];
  /** What is counted. */
  kind: AreaKind;
}

/** The rows of some outcomes, as `outcomesAt` numbers them; null where no visit that can be photographed has a box. */
export function boxRowsOf(
  { visitStart, visitList, rows }: Pick<Outcomes, 'visitStart' | 'visitList' | 'rows'>,
  truth: Pick<Truth, 'visits'>,
  kind: AreaKind,
): BoxRows | null {
  const frames: number[] = [];
  const visits: number[] = [];
  for (let k = 0; k + 1 < visitStart.length; k++) {
    for (let i = visitStart[k]!; i < visitStart[k + 1]!; i++) {
      if (rows[i] === NO_ROW) continue;
      frames.push(k);
      visits.push(visitList[i]!);
    }
  }
  if (frames.length === 0) return null;
  return {
    frames: Uint32Array.from(frames),
    visits: Uint32Array.from(visits),
    boxes: truth.visits.map(({ box }) => box ?? null),
    kind,
  };
}

/** The row of a visit at a frame; -1 where there is none. */
export function rowOf({ frames, visits }: BoxRows, frame: number, visit: number): number {
  let low = 0;
  let high = frames.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle]! < frame) low = middle + 1;
    else high = middle;
  }
  for (let row = low; frames[row] === frame; row++) if (visits[row] === visit) return row;
  return -1;
}

/** The name under which areas within boxes are kept beside evidence that is kept under a name of its own. */
export function boxesKey(evidence: string, { frames, visits, boxes, kind }: BoxRows): string {
  return keyOf([MEANING, evidence, boxes, kind], frames, visits);
}

/** Measures areas within the boxes of visits while the differences of a clip go by, frame by frame. */
export class BoxMeter {
  private readonly out = new ByteWriter();
  private next = 0;
  /** Of visits that are in view: each box has its own size. */
  private readonly meters = new Map<number, Cropped>();

  constructor(
    private readonly rows: BoxRows,
    private readonly width: number,
    private readonly height: number,
    readonly floor: number,
  ) {}

  /** Takes a frame, and its difference if it has a row; frames must rise, and none that has one may be left out. */
  take(frame: number, differenceOf: () => Uint8Array): void {
    const { frames, visits, kind } = this.rows;
    if (frames[this.next] !== frame) return;
    const difference = differenceOf();
    const seen = new Set<number>();
    for (; frames[this.next] === frame; this.next++) {
      const visit = visits[this.next]!;
      seen.add(visit);
      encodeCounts(this.out, this.meterOf(visit).measure(difference)[kind], this.floor);
    }
    for (const visit of this.meters.keys()) if (!seen.has(visit)) this.meters.delete(visit);
  }

  /** All rows, encoded; null where a frame went by unseen, for then nothing after it was taken. */
  get bytes(): Uint8Array | null {
    return this.next === this.rows.frames.length ? this.out.bytes() : null;
  }

  private meterOf(visit: number): Cropped {
    const known = this.meters.get(visit);
    if (known) return known;
    const { width, height, floor } = this;
    const meter = new Cropped(withinBox(this.rows.boxes[visit] as Box, width, height), width, floor);
    this.meters.set(visit, meter);
    return meter;
  }
}

/** Evidence of the part of each frame that lies within a box. */
class Cropped {
  private readonly meter: EvidenceMeter;
  private readonly part: Uint8Array;
  private readonly across: number;

  constructor(
    private readonly box: PixelBox,
    private readonly width: number,
    floor: number,
  ) {
    this.across = box.right - box.left;
    this.part = new Uint8Array(this.across * (box.bottom - box.top));
    this.meter = new EvidenceMeter(this.across, box.bottom - box.top, floor);
  }

  measure(difference: Uint8Array) {
    const { left, top, bottom } = this.box;
    for (let y = top, to = 0; y < bottom; y++, to += this.across) {
      const from = y * this.width + left;
      this.part.set(difference.subarray(from, from + this.across), to);
    }
    return this.meter.measure(this.part);
  }
}

/** What is known of how much changed within the boxes of visits. */
export interface WithinBoxes extends BoxSource {
  rows: BoxRows;
}

/** Encoded rows, kept under a name; null where there are none, or they are not whole. */
export async function readBoxes(cache: Cache, key: string): Promise<Uint8Array | null> {
  return readSealed(cache, ['boxes', key]);
}

export async function keepBoxes(cache: Cache, key: string, bytes: Uint8Array): Promise<void> {
  await writeSealed(cache, ['boxes', key], bytes);
}

/** @param bytes gives the encoded rows, asked for when columns first are */
export function withinBoxes(rows: BoxRows, bytes: () => Promise<Uint8Array>): WithinBoxes {
  let held: Promise<Uint8Array> | null = null;
  const { kind } = rows;
  return {
    rows,
    async columns(levels) {
      held ??= bytes();
      const falling = [...new Set(levels)].sort((a, b) => b - a);
      const into = falling.map(() => new Uint32Array(rows.frames.length));
      if (!decodeColumns(await held, rows.frames.length, 0, falling, { [kind]: into }, [kind])) {
        throw new RangeError('areas within boxes: not so many rows as were measured');
      }
      return new Map(falling.map((level, i) => [level, into[i]!]));
    },
  };
}
