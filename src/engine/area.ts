/** The number of pixels of `difference` at or above `level`. */
export function changedPixels(difference: Uint8Array, level: number): number {
  let count = 0;
  for (let i = 0; i < difference.length; i++) if (difference[i]! >= level) count++;
  return count;
}

/**
 * The largest 8-connected region at one threshold, by flood fill. Direct replay uses it, so that it shares nothing
 * with the evidence path that it is compared with.
 */
export class LargestRegion {
  /** 1 where a changed pixel has not been visited; one pixel of 0 all round, so that no fill leaves the frame. */
  private readonly waiting: Uint8Array;
  private readonly stack: Int32Array;
  private readonly stride: number;
  private readonly neighbours: readonly number[];

  constructor(
    private readonly width: number,
    private readonly height: number,
  ) {
    this.stride = width + 2;
    this.waiting = new Uint8Array(this.stride * (height + 2));
    this.stack = new Int32Array(width * height);
    const s = this.stride;
    this.neighbours = [-s - 1, -s, -s + 1, -1, 1, s - 1, s, s + 1];
  }

  /** Pixels in the largest 8-connected set of pixels at or above `level`; 0 when there are none. */
  of(difference: Uint8Array, level: number): number {
    for (let y = 0, i = 0; y < this.height; y++) {
      let at = (y + 1) * this.stride + 1;
      for (let x = 0; x < this.width; x++, i++, at++) this.waiting[at] = difference[i]! >= level ? 1 : 0;
    }
    let largest = 0;
    for (let at = this.stride; at < this.waiting.length - this.stride; at++) {
      if (this.waiting[at] === 1) largest = Math.max(largest, this.fill(at));
    }
    return largest;
  }

  private fill(seed: number): number {
    let size = 0;
    let depth = 0;
    this.waiting[seed] = 0;
    this.stack[depth++] = seed;
    while (depth > 0) {
      const at = this.stack[--depth]!;
      size++;
      for (const offset of this.neighbours) {
        if (this.waiting[at + offset] === 1) {
          this.waiting[at + offset] = 0;
          this.stack[depth++] = at + offset;
        }
      }
    }
    return size;
  }
}
