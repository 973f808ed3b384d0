import { smooth } from '../engine/smooth.js';

/** Share of the foliage that changes more than what counts as moving wholly. */
const WHOLLY = 0.25;
/** From here on a pixel counts as foliage. */
const COUNTED = 128;
/** Share of the frame's width over which neighbours move alike: the mesh of the net that bends the picture. */
const ALIKE = 1 / 80;

/**
 * Where in an outline it is leaves that move, and not the wall between them: foliage weighed by how much each place was seen
 * to change from frame to frame, against what the liveliest quarter of it changes. Squared changes grow with the square of a
 * shift (Lucas & Kanade 1981), so their root weighs.
 */
export class Mobility {
  readonly #energy: Float64Array;
  #before: Uint8Array | null = null;
  #pairs = 0;

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.#energy = new Float64Array(width * height);
  }

  /** The next frame does not follow on from the last one. */
  restart(): void {
    this.#before = null;
  }

  /** @param y luminance, `width * height` bytes */
  see(y: Uint8Array): void {
    const before = this.#before;
    if (before) {
      for (let i = 0; i < y.length; i++) this.#energy[i]! += (y[i]! - before[i]!) ** 2;
      this.#pairs++;
    }
    this.#before = Uint8Array.from(y);
  }

  /**
   * @param foliage `width * height` bytes, as in Setup
   * @param noise mean squared change that the sensor's noise makes, for each pixel
   * @returns the same, less where less moves; unchanged where nothing does
   */
  weigh(foliage: Uint8Array, noise: Float32Array): Uint8Array {
    const { width, height } = this;
    const root = Uint8Array.from(this.#energy, (e, i) =>
      Math.min(255, Math.round(4 * Math.sqrt(Math.max(0, e / Math.max(1, this.#pairs) - noise[i]!)))),
    );
    const around = smooth(root, width, height, Math.max(1, Math.round(ALIKE * width)));
    const leaves = around.filter((_, i) => foliage[i]! >= COUNTED).sort();
    const wholly = leaves[Math.floor((1 - WHOLLY) * leaves.length)] ?? 0;
    if (wholly === 0) return foliage;
    return foliage.map((value, i) => Math.round(value * Math.min(1, around[i]! / wholly)));
  }
}
