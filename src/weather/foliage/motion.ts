/**
 * Width at which motion is measured, pixels: coarse, since a shift is told only as long as it is smaller than what is
 * shifted, and boughs are larger than leaves.
 */
export const MEASURED_WIDTH = 80;
/** Foliage from this weight on is measured; noise is measured where there is less than the second. */
const FOLIAGE = 160;
const OTHER = 32;
/** Cells of this side are measured by themselves, so that what passes through some does not count. */
const CELL = 8;
const LEVELS = 16;
/** Pixels of a brightness that tell its noise. */
const ENOUGH = 40;
/** Times the middle energy of still places, from which something passed. */
const PASSED = 3;
/** A cell whose texture is fainter, (grey levels per pixel) squared, cannot show how far it moves. */
const LEAST_TEXTURE = 4;

/** How foliage moved from frame to frame. */
export interface Motion {
  /** Frame pairs measured. */
  pairs: number;
  /** Share of the frame that is foliage with enough texture to show motion. */
  share: number;
  /** The middle cell's shift from one frame to the next, as a share of the frame's width, root mean square; noise taken off. */
  shift: number;
}

/**
 * Measures how far foliage moves between frames, without following any leaf: where brightness has slope g, a small shift u
 * changes it by g u (Lucas & Kanade 1981), so the ratio of the differences' energy to that of the slopes is a
 * squared shift. It saturates where leaves move farther than they are large. Sensor noise is taken off as measured beside the
 * foliage at the same brightness.
 */
export class MotionMeter {
  private readonly energy: Float32Array;
  private readonly slope: Float32Array;
  private readonly sum: Float32Array;
  private readonly before: Uint8Array;
  private fresh = true;
  private pairs = 0;
  private frames = 0;

  /** @param foliage `width * height` bytes, as in Setup */
  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly foliage: Uint8Array,
  ) {
    const pixels = width * height;
    this.energy = new Float32Array(pixels);
    this.slope = new Float32Array(pixels);
    this.sum = new Float32Array(pixels);
    this.before = new Uint8Array(pixels);
  }

  /** The next frame does not follow on from the last one. */
  restart(): void {
    this.fresh = true;
  }

  /** @param y luminance, `width * height` bytes */
  see(y: Uint8Array): void {
    const { width, height, energy, slope, sum, before } = this;
    for (let i = 0; i < y.length; i++) sum[i]! += y[i]!;
    for (let row = 1; row < height - 1; row++) {
      for (let i = row * width + 1; i < (row + 1) * width - 1; i++) {
        const gx = y[i + 1]! - y[i - 1]!;
        const gy = y[i + width]! - y[i - width]!;
        slope[i]! += (gx * gx + gy * gy) / 4;
      }
    }
    this.frames++;
    if (!this.fresh) {
      let drift = 0;
      for (let i = 0; i < y.length; i++) drift += y[i]! - before[i]!;
      drift /= y.length;
      for (let i = 0; i < y.length; i++) {
        const d = y[i]! - before[i]! - drift;
        energy[i]! += d * d;
      }
      this.pairs++;
    }
    before.set(y);
    this.fresh = false;
  }

  measure(): Motion {
    const { width, height, foliage, pairs } = this;
    if (pairs === 0) return { pairs, share: 0, shift: 0 };
    const noise = this.noise();
    const shifts: number[] = [];
    for (let top = 0; top + CELL <= height; top += CELL) {
      for (let left = 0; left + CELL <= width; left += CELL) {
        let [moved, sloped, pixels] = [0, 0, 0];
        for (let y = top; y < top + CELL; y++) {
          for (let i = y * width + left; i < y * width + left + CELL; i++) {
            if (foliage[i]! < FOLIAGE) continue;
            const n = noise[this.level(i)]!;
            moved += this.energy[i]! / pairs - n;
            // A difference of two frames holds noise twice, two central differences as much as one frame.
            sloped += this.slope[i]! / this.frames - n / 2;
            pixels++;
          }
        }
        if (pixels < (CELL * CELL) / 4 || sloped / pixels < LEAST_TEXTURE) continue;
        // Motion in any direction meets a slope's own direction with half its energy.
        shifts.push(Math.sqrt((2 * Math.max(0, moved)) / sloped));
      }
    }
    const cells = Math.max(1, Math.floor(width / CELL) * Math.floor(height / CELL));
    return { pairs, share: shifts.length / cells, shift: (median(shifts) ?? 0) / width };
  }

  private level(i: number): number {
    return Math.min(LEVELS - 1, Math.floor(((this.sum[i]! / this.frames) * LEVELS) / 256));
  }

  /** Mean square difference of still places, by brightness; that of the nearest measured brightness where there are none. */
  private noise(): number[] {
    const lists: number[][] = Array.from({ length: LEVELS }, () => []);
    for (let i = 0; i < this.energy.length; i++) {
      if (this.foliage[i]! < OTHER) lists[this.level(i)]!.push(this.energy[i]! / this.pairs);
    }
    const known = lists.map((list) => (list.length >= ENOUGH ? meanOfMost(list) : undefined));
    if (known.every((value) => value === undefined)) return known.map(() => this.quietest());
    return known.map((value, level) => value ?? (nearestKnown(known, level) as number));
  }

  /** Where all is foliage: what its quietest tenth shows. */
  private quietest(): number {
    const all = Float32Array.from(this.energy).sort();
    return (all[Math.floor(all.length / 10)] ?? 0) / this.pairs;
  }
}

/** The mean of all but those far above the middle: something passed there. */
function meanOfMost(values: number[]): number {
  const most = (median(values) ?? 0) * PASSED;
  const kept = values.filter((value) => value <= most);
  return kept.reduce((sum, value) => sum + value, 0) / kept.length;
}

function nearestKnown(known: readonly (number | undefined)[], level: number): number | undefined {
  for (let away = 1; away < known.length; away++) {
    const found = known[level - away] ?? known[level + away];
    if (found !== undefined) return found;
  }
  return undefined;
}

function median(values: number[]): number | undefined {
  return values.sort((a, b) => a - b)[Math.floor(values.length / 2)];
}
