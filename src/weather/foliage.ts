import { luminance } from '../engine/luminance.js';
import { rasterize } from '../engine/mask.js';
import { smooth } from '../engine/smooth.js';

/** Pixels over which a drawn outline fades, to either side. */
const SOFT = 1;
/** A map is looked for at no more than this width: leaves need no finer one. */
const FINDING_WIDTH = 320;
/** Grey levels, and multiples of the frame's own noise, from which a pixel counts as changed. */
const LEAST_CHANGE = 4;
const NOISES = 3.5;
/** Share of frame pairs in which a place must change, there and back, to be sure that it sways, and where it may. */
const SURE_SHARE = 0.08;
const FIRST_SHARE = 0.01;
/**
 * Contrast of texture, grey levels per pixel: full from this, or from what is usual where things move; none below half
 * of it.
 */
const FULL_TEXTURE = 14;
/** Sides of the windows, as a share of the frame's width, over which texture and motion are gathered; leaves near moving ones can move. */
const TEXTURE_WINDOW = 0.03;
const MOTION_WINDOW = 0.05;
const NEARBY_WINDOW = 0.16;
/** How much texture alone counts for where other parts of the frame move and this one never does. */
const STILL_TEXTURE = 0.1;
/** Below the first nothing is thought to sway, from the second all. */
const DECIDED = [0.08, 0.45] as const;
/** Moving shares of the textured places between which motion takes over from texture alone in telling what is foliage. */
const MOTION_HINTS = 0.05;
const MOTION_TELLS = 0.35;

/**
 * The labels' outlines as a map of what can sway.
 * @param polygons corners as fractions of the frame
 * @returns `width * height` bytes, 255 inside, fading over a pixel or two at the edge
 */
export function foliageFrom(
  polygons: readonly (readonly (readonly [number, number])[])[],
  width: number,
  height: number,
): Uint8Array {
  const inside = rasterize(polygons, width, height);
  for (let i = 0; i < inside.length; i++) inside[i] = inside[i]! * 255;
  return smooth(inside, width, height, SOFT);
}

/**
 * Finds where things can sway from a sample of the clip itself: places that change again and again and come back, and
 * texture without one ruling direction, as of leaves. Where nothing moves at all, texture alone has to do. What passes
 * once, such as an animal, does not count. The weights are ours, set by eye and on drawn scenes.
 */
export class FoliageFinder {
  private readonly small: { width: number; height: number };
  private readonly sum: Float32Array;
  private readonly ups: Uint16Array;
  private readonly downs: Uint16Array;
  private now: Uint8Array;
  private before: Uint8Array;
  private frames = 0;

  constructor(
    private readonly width: number,
    private readonly height: number,
  ) {
    const factor = Math.min(1, FINDING_WIDTH / width);
    this.small = {
      width: Math.max(1, Math.round(width * factor)),
      height: Math.max(1, Math.round(height * factor)),
    };
    const pixels = this.small.width * this.small.height;
    this.sum = new Float32Array(pixels);
    this.ups = new Uint16Array(pixels);
    this.downs = new Uint16Array(pixels);
    this.now = new Uint8Array(pixels);
    this.before = new Uint8Array(pixels);
  }

  /** @param y luminance, `width * height` bytes; frames in order, some dozens spread over the clip */
  see(y: Uint8Array): void {
    [this.now, this.before] = [this.before, this.now];
    luminance(y, 1, this.width, this.height, this.small.width, this.small.height, this.now);
    const { now, before, sum, ups, downs } = this;
    for (let i = 0; i < now.length; i++) sum[i]! += now[i]!;
    if (this.frames++ === 0) return;
    const { middle, spread } = differences(now, before);
    const least = Math.max(LEAST_CHANGE, NOISES * spread);
    for (let i = 0; i < now.length; i++) {
      const d = now[i]! - before[i]! - middle;
      if (d > least) ups[i]!++;
      else if (d < -least) downs[i]!++;
    }
  }

  /** @returns `width * height` bytes: how much each pixel is something that can sway */
  map(): Uint8Array {
    const { width, height } = this.small;
    const map = new Uint8Array(width * height);
    if (this.frames === 0) return new Uint8Array(this.width * this.height);
    const { near, around } = this.motion();
    const contrast = this.contrast();
    const full = Math.min(FULL_TEXTURE, usualWhere(contrast, near, SURE_SHARE) ?? FULL_TEXTURE);
    const texture = contrast.map((c) => ramp(c, full / 2, full));
    let [textured, moving] = [0, 0];
    for (let i = 0; i < map.length; i++) {
      if (texture[i]! < 0.5) continue;
      textured++;
      if (near[i]! > SURE_SHARE) moving++;
    }
    const tells = ramp(moving / Math.max(1, textured), MOTION_HINTS, MOTION_TELLS);
    const alone = 1 - (1 - STILL_TEXTURE) * tells;
    for (let i = 0; i < map.length; i++) {
      const moves = ramp(near[i]!, FIRST_SHARE, SURE_SHARE) * Math.sqrt(texture[i]!);
      const mayMove = (1 - tells) * ramp(around[i]!, FIRST_SHARE, SURE_SHARE / 2) * texture[i]!;
      map[i] = 255 * ramp(Math.max(moves, mayMove, alone * texture[i]!), ...DECIDED);
    }
    const even = smooth(map, width, height, Math.round(TEXTURE_WINDOW * width * 0.5));
    return luminance(even, 1, width, height, this.width, this.height);
  }

  /** Share of frame pairs in which places right here, and hereabouts, changed and came back. */
  private motion(): { near: Float32Array; around: Float32Array } {
    const { width, height } = this.small;
    const share = new Float32Array(width * height);
    const pairs = Math.max(1, this.frames - 1);
    for (let i = 0; i < share.length; i++) {
      // What goes there and back only once passes; it does not sway.
      share[i] = (2 * Math.max(0, Math.min(this.ups[i]!, this.downs[i]!) - 1)) / pairs;
    }
    const within = (window: number) => boxMean(share, width, height, Math.round((window * width) / 2));
    return { near: within(MOTION_WINDOW), around: within(NEARBY_WINDOW) };
  }

  /**
   * Contrast of the mean frame, grey levels per pixel, less where it has one direction (a post, the edge of a bowl), by the structure
   * tensor's coherence (Bigun & Granlund 1987).
   */
  private contrast(): Float32Array {
    const { width, height } = this.small;
    const xx = new Float32Array(width * height);
    const yy = new Float32Array(width * height);
    const xy = new Float32Array(width * height);
    for (let y = 1; y < height - 1; y++) {
      for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
        const gx = (this.sum[i + 1]! - this.sum[i - 1]!) / (2 * this.frames);
        const gy = (this.sum[i + width]! - this.sum[i - width]!) / (2 * this.frames);
        xx[i] = gx * gx;
        yy[i] = gy * gy;
        xy[i] = gx * gy;
      }
    }
    const radius = Math.max(1, Math.round((TEXTURE_WINDOW * width) / 2));
    const [a, b, c] = [xx, yy, xy].map((part) => boxMean(part, width, height, radius)) as [
      Float32Array,
      Float32Array,
      Float32Array,
    ];
    return a.map((_, i) => {
      const energy = a[i]! + b[i]!;
      if (energy <= 0) return 0;
      const coherence = Math.hypot(a[i]! - b[i]!, 2 * c[i]!) / energy;
      return Math.sqrt(energy) * (1 - coherence ** 4);
    });
  }
}

/** How two frames differ as a whole: the middle difference, and the deviation that its quieter half shows. */
function differences(now: Uint8Array, before: Uint8Array): { middle: number; spread: number } {
  const counts = new Uint32Array(511);
  for (let i = 0; i < now.length; i++) counts[now[i]! - before[i]! + 255]!++;
  const middle = Math.round(quantile(counts, now.length, 0.5) - 0.5) - 255;
  const sizes = new Uint32Array(512);
  for (let d = 0; d < counts.length; d++) sizes[Math.abs(d - 255 - middle)]! += counts[d]!;
  // Four tenths of normal deviates are smaller than 0.524 standard deviations.
  return { middle, spread: Math.max(0, quantile(sizes, now.length, 0.4) - 0.5) / 0.524 };
}

/** A low quarter of the values of those places that certainly move; undefined where too few do. */
function usualWhere(values: Float32Array, moving: Float32Array, sure: number): number | undefined {
  const there = values.filter((_, i) => moving[i]! > sure).sort();
  return there.length < values.length / 200 ? undefined : there[there.length >> 2];
}

/** Where so large a share of all counts is passed, a count spread evenly over its step. */
function quantile(counts: Uint32Array, all: number, share: number): number {
  let below = 0;
  for (let i = 0; i < counts.length; i++) {
    if (below + counts[i]! >= share * all) return i + (share * all - below) / Math.max(1, counts[i]!);
    below += counts[i]!;
  }
  return counts.length;
}

function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)));
}

/** Mean over a square of `2 * radius + 1`, as far as it lies within the frame. */
function boxMean(values: Float32Array, width: number, height: number, radius: number): Float32Array {
  // Summed area table (Crow 1984), in doubles.
  const table = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    for (let x = 0, row = 0; x < width; x++) {
      row += values[y * width + x]!;
      table[(y + 1) * (width + 1) + x + 1] = table[y * (width + 1) + x + 1]! + row;
    }
  }
  const out = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const top = Math.max(0, y - radius) * (width + 1);
    const rows = Math.min(height, y + radius + 1);
    const bottom = rows * (width + 1);
    for (let x = 0; x < width; x++) {
      const left = Math.max(0, x - radius);
      const right = Math.min(width, x + radius + 1);
      const sum = table[bottom + right]! - table[bottom + left]! - table[top + right]! + table[top + left]!;
      out[y * width + x] = sum / ((right - left) * (rows - Math.max(0, y - radius)));
    }
  }
  return out;
}
