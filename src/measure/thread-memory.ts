import { LEVELS } from '../engine/joiner.js';
import type { EvidenceRow } from '../store/evidence-codec.js';

/** Frames that go to a thread at once, for telling it so takes time, and how many such loads are under way at most. */
export const LOAD = 8;
export const LOADS = 3;

/** Plain data, as threads are told of it. */
export interface MemoryShape {
  /** Bytes of a frame. */
  pixels: number;
  tracks: number;
  frames: SharedArrayBuffer;
  rows: SharedArrayBuffer;
}

/** Bytes from one frame to the next: all begin at a word. */
const apart = (pixels: number) => 4 * Math.ceil(pixels / 4);
/** Counts of one row: changed, then region. */
const ROW = 2 * LEVELS;

export function shapeFor(pixels: number, tracks: number): MemoryShape {
  const frames = LOADS * LOAD;
  return {
    pixels,
    tracks,
    frames: new SharedArrayBuffer(frames * apart(pixels)),
    rows: new SharedArrayBuffer(frames * tracks * ROW * Uint32Array.BYTES_PER_ELEMENT),
  };
}

/** Memory that all threads see: loads of frames on their way to them, and the evidence that comes back. */
export class ThreadMemory {
  constructor(private readonly shape: MemoryShape) {}

  /** @param n place of the frame in its load */
  frame(load: number, n: number): Uint8Array {
    const { frames, pixels } = this.shape;
    return new Uint8Array(frames, (load * LOAD + n) * apart(pixels), pixels);
  }

  row(load: number, n: number, track: number): EvidenceRow {
    const { rows, tracks } = this.shape;
    const at = ((load * LOAD + n) * tracks + track) * ROW * Uint32Array.BYTES_PER_ELEMENT;
    const both = new Uint32Array(rows, at, ROW);
    return { changed: both.subarray(0, LEVELS), region: both.subarray(LEVELS) };
  }
}
