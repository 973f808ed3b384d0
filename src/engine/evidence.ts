import { type Joiner, LEVELS, type LevelWatch, PlainJoiner } from './joiner.js';

export type { Connected, LevelWatch, PiecesToTell } from './joiner.js';

/** Areas of one frame for every level; reused between calls. */
export interface FrameEvidence {
  /** 256 entries: at index t the number of pixels with a difference of t or more. [0] is unused. */
  readonly changed: Uint32Array;
  /** 256 entries: at index t the size of the largest 8-connected set of those pixels. [0] is unused. */
  readonly region: Uint32Array;
}

/** A mask as a meter of one size takes it: 1 where not watched, one pixel more all round. */
export type PaddedMask = Uint8Array & { readonly padded: unique symbol };

/**
 * The areas of a difference image at all thresholds, in one pass.
 *
 * Pixels are placed in falling order of difference (counting sort), each joined with the neighbours placed before it,
 * and the largest set is noted when a level is done: the component tree of Najman & Couprie (2006, IEEE TIP
 * 15:3531-3539), of which only the largest node at each level is kept.
 */
export class EvidenceMeter {
  /** Whether the regions of all that changed are worked out by now. */
  private isJoined = false;

  /**
   * @param width in pixels
   * @param height in pixels
   * @param floor the lowest level wanted, 1 to 255; lower levels hold 0 and cost next to nothing
   * @param joiner of the same size and floor, used by nothing else
   */
  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly floor: number = 1,
    private readonly joiner: Joiner = new PlainJoiner(width, height, floor),
  ) {}

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
    this.joiner.take(difference);
    this.isJoined = false;
  }

  /**
   * Areas of the difference taken in last.
   * @returns the same object at every call
   */
  areas(watch?: LevelWatch): FrameEvidence {
    const { all } = this.joiner;
    if (!this.isJoined || watch) this.joiner.join(all, watch);
    this.isJoined = true;
    return all;
  }

  /**
   * The same as a mask leaves them. Costs as much as the mask leaves, and next to nothing where it hides nothing that changed.
   * @param mask as `maskFor` of this meter gives it
   * @returns an object that the next call may give again
   */
  areasUnder(mask: PaddedMask, watch?: LevelWatch): FrameEvidence {
    const { floor } = this;
    const { left, all } = this.joiner;
    const { order, changed } = all;
    const some = left.order;
    let n = 0;
    let k = 0;
    for (let level = LEVELS - 1; level >= floor; level--) {
      for (const end = changed[level]!; k < end; k++) {
        const at = order[k]!;
        some[n] = at;
        n += 1 - mask[at]!;
      }
      left.changed[level] = n;
    }
    if (n === changed[floor]) return this.areas(watch);
    this.joiner.join(left, watch);
    return left;
  }

  /** @param mask `width * height` bytes, not 0 where not watched */
  maskFor(mask: Uint8Array): PaddedMask {
    const { width, height } = this;
    const stride = width + 2;
    const padded = new Uint8Array(stride * (height + 2));
    for (let y = 0, i = 0; y < height; y++) {
      for (let at = (y + 1) * stride + 1, end = at + width; at < end; at++, i++)
        padded[at] = Number(mask[i] !== 0);
    }
    return padded as PaddedMask;
  }
}
