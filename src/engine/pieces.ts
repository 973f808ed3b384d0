/**
 * The 8-connected pieces of what changed in frames of one size, by flood fill. Direct replay measures areas by it, so it
 * shares nothing with the evidence path that direct replay is compared with.
 */
export class Pieces {
  private static last: Pieces | null = null;

  /** 1 where a changed pixel has not been visited; one pixel of 0 all round, so that no fill leaves the frame. */
  private readonly waiting: Uint8Array;
  private readonly stride: number;
  private readonly neighbours: readonly number[];
  /** Positions in the padded frame that were reached, in order. */
  private readonly reached: Int32Array;
  private readonly pixels: Int32Array;
  /** For each position of the padded frame its pixel, and the other way round. */
  private readonly pixelAt: Int32Array;
  private readonly placeOf: Int32Array;

  constructor(
    private readonly width: number,
    private readonly height: number,
  ) {
    const s = width + 2;
    this.stride = s;
    this.waiting = new Uint8Array(s * (height + 2));
    this.neighbours = [-s - 1, -s, -s + 1, -1, 1, s - 1, s, s + 1];
    this.reached = new Int32Array(width * height);
    this.pixels = new Int32Array(width * height);
    this.pixelAt = new Int32Array(this.waiting.length);
    this.placeOf = new Int32Array(width * height);
    for (let y = 0, i = 0; y < height; y++) {
      for (let place = (y + 1) * s + 1, end = place + width; place < end; place++, i++) {
        this.pixelAt[place] = i;
        this.placeOf[i] = place;
      }
    }
  }

  /** One for frames of a size, made once while the size stays: its tables take longer to make than most frames to look at. */
  static of(width: number, height: number): Pieces {
    const { last } = Pieces;
    if (last?.width === width && last.height === height) return last;
    Pieces.last = new Pieces(width, height);
    return Pieces.last;
  }

  /**
   * Pixels in the largest piece of those at or above `level`; 0 when there are none.
   * @param difference `width * height` bytes, rows from the top
   */
  largest(difference: Uint8Array, level: number): number {
    const { width, height, stride, waiting } = this;
    for (let y = 0, i = 0; y < height; y++) {
      let at = (y + 1) * stride + 1;
      for (const end = at + width; at < end; at++, i++) waiting[at] = Number(difference[i]! >= level);
    }
    let largest = 0;
    for (let at = waiting.indexOf(1); at >= 0; at = waiting.indexOf(1, at + 1)) {
      largest = Math.max(largest, this.fill(at));
    }
    return largest;
  }

  /**
   * Gives each piece of at least `minimum` pixels to `each`, from the top left on, as pixels in no particular order in
   * an array that the next one overwrites.
   * @param changed `width * height` bytes, 1 where a pixel changed
   */
  forEach(changed: Uint8Array, minimum: number, each: (pixels: Int32Array) => void): void {
    const { waiting } = this;
    this.take(changed);
    for (let at = waiting.indexOf(1); at >= 0; at = waiting.indexOf(1, at + 1)) {
      const size = this.fill(at);
      if (size < minimum) continue;
      for (let i = 0; i < size; i++) this.pixels[i] = this.pixelAt[this.reached[i]!]!;
      each(this.pixels.subarray(0, size));
    }
  }

  /**
   * Whether what a mask leaves of one piece still hangs together in at least `minimum` pixels.
   * @param pixels of the piece
   * @param hiding for each pixel of the frame one bit for each mask
   */
  someLeft(pixels: Int32Array, hiding: Uint8Array, mask: number, minimum: number): boolean {
    const { waiting, placeOf } = this;
    waiting.fill(0);
    for (let i = 0; i < pixels.length; i++) {
      const pixel = pixels[i]!;
      if ((hiding[pixel]! >> mask) & 1) continue;
      waiting[placeOf[pixel]!] = 1;
    }
    for (let i = 0; i < pixels.length; i++) {
      const at = placeOf[pixels[i]!]!;
      if (waiting[at] === 1 && this.fill(at) >= minimum) return true;
    }
    return false;
  }

  private take(changed: Uint8Array): void {
    const { width, height, stride, waiting } = this;
    for (let y = 0; y < height; y++) {
      waiting.set(changed.subarray(y * width, (y + 1) * width), (y + 1) * stride + 1);
    }
  }

  private fill(seed: number): number {
    const { waiting, reached, neighbours } = this;
    let size = 1;
    waiting[seed] = 0;
    reached[0] = seed;
    for (let next = 0; next < size; next++) {
      const at = reached[next]!;
      for (const offset of neighbours) {
        if (waiting[at + offset] !== 1) continue;
        waiting[at + offset] = 0;
        reached[size++] = at + offset;
      }
    }
    return size;
  }
}
