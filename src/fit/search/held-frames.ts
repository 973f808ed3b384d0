import { setImmediate } from 'node:timers/promises';
import { type Clip, luminanceFrames } from '../../clip/open.js';
import { luminanceTogether } from '../../clip/together.js';
import type { Size } from './look.js';

/** Bytes of frames that are held so that they need not be decoded again. */
const MOST_HELD = 256 * 2 ** 20;

/** Frames that are held need not be waited for: whoever wants to stop the search is heard so often all the same. */
const LONGEST_MS = 50;

interface Held {
  /** By frame of the clip: its place among `frames`, or -1. */
  places: Int32Array;
  frames: Uint8Array[];
}

/** Luminance of one clip at several sizes, decoded once as far as it can be held, for all that look at the clip. */
export class HeldFrames {
  private readonly held = new Map<string, Held>();
  private bytes = 0;

  /**
   * @param sizes that will be asked for: those that can be held are brought out of the first reading
   * @param most bytes that are held
   */
  constructor(
    private readonly clip: Clip,
    private readonly sizes: readonly Size[],
    private readonly signal?: AbortSignal,
    private readonly most = MOST_HELD,
  ) {}

  /**
   * Frames of the clip at one size, each the same array for as long as it is held, or overwritten by the next.
   * @param indices rising
   */
  async *read(size: Size, indices: Uint32Array): AsyncGenerator<Uint8Array> {
    const held = this.held.get(nameOf(size));
    if (held && indices.every((index) => held.places[index]! >= 0)) {
      let yielded = performance.now();
      for (const index of indices) {
        if (performance.now() - yielded > LONGEST_MS) {
          await setImmediate();
          this.signal?.throwIfAborted();
          yielded = performance.now();
        }
        yield held.frames[held.places[index]!]!;
      }
      return;
    }
    if (held) this.letGo(size, held);
    const holding = this.holdable(size, indices.length);
    if (!holding.includes(size)) {
      yield* luminanceFrames(this.clip, indices, size, this.signal);
      return;
    }
    const frames = holding.map((): Uint8Array[] => []);
    const looks = holding.map(({ width, height }) => ({ width, height, indices }));
    for await (const { look, y } of luminanceTogether(this.clip, looks, this.signal)) {
      const own = y.slice();
      frames[look]!.push(own);
      if (look === 0) yield own;
    }
    const places = new Int32Array(this.clip.times.length).fill(-1);
    indices.forEach((index, place) => {
      places[index] = place;
    });
    for (const [i, one] of holding.entries()) {
      this.held.set(nameOf(one), { places, frames: frames[i]! });
      this.bytes += indices.length * one.width * one.height;
    }
  }

  /** What was held of a reading that began later, say. */
  private letGo(size: Size, { frames }: Held): void {
    this.held.delete(nameOf(size));
    this.bytes -= frames.length * size.width * size.height;
  }

  /** The size itself first, then of those that will be asked for the smallest, as far as there is room for them. */
  private holdable(size: Size, frames: number): Size[] {
    const others = this.sizes
      .filter((other) => nameOf(other) !== nameOf(size) && !this.held.has(nameOf(other)))
      .sort((a, b) => a.width * a.height - b.width * b.height);
    let room = this.most - this.bytes;
    return [size, ...others].filter(({ width, height }) => {
      const isFitting = frames * width * height <= room;
      if (isFitting) room -= frames * width * height;
      return isFitting;
    });
  }
}

function nameOf({ width, height }: Size): string {
  return `${width} ${height}`;
}
