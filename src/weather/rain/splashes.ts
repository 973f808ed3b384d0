import { poisson, type Random } from '../../base/random.js';
import { figureOf } from '../assumptions.js';
import type { Setup } from '../setup.js';
import { Falling } from './drops.js';
import { focalPixels, mixLight } from './streaks.js';

/** Row, as a share of the height, of the ground that animals come to; assumed, for a level camera. */
const SUBJECT_ROW = 0.7;
/** Splashes beyond this many times the subject's distance are too small to see. */
const FARTHEST = 2;

/** Dim spots where drops strike the ground. */
export class Splashes {
  /** Rows of ground, and how many crowns stand in all rows up to each at any moment of an exposure. */
  private readonly rows: { y: number; radius: number }[] = [];
  private readonly upTo: number[] = [];
  private readonly mean: number;
  private readonly most: number;
  private readonly lasts: number;
  private readonly light: number;

  constructor(
    private readonly setup: Setup,
    private readonly dice: Random,
    private readonly exposure: number,
  ) {
    const { width, height, geometry, from, to } = setup;
    const focal = focalPixels(width, geometry.hfov);
    const horizon = SUBJECT_ROW * height - (focal * geometry.height) / geometry.subject;
    const falling = new Falling(to.rain ?? 0, from.rain ?? 0).strikes;
    this.lasts = figureOf(setup, 'splash time');
    const metres = figureOf(setup, 'splash size');
    this.most = figureOf(setup, 'splash light');
    this.light = figureOf(setup, 'drop light');
    let sum = 0;
    for (let y = Math.max(0, Math.ceil(horizon)); y < height; y++) {
      const z = (focal * geometry.height) / (y + 0.5 - horizon);
      if (z > FARTHEST * geometry.subject) continue;
      const squareMetres = ((width * z) / focal) * (z / (y + 0.5 - horizon));
      sum += falling * squareMetres * (this.lasts + exposure);
      this.rows.push({ y, radius: (metres * focal) / z });
      this.upTo.push(sum);
    }
    this.mean = sum;
  }

  /** Share of the exposure for which a crown stands that is there at any moment of it. */
  private seenFor(dice: Random): number {
    const { lasts, exposure } = this;
    const begins = dice() * (lasts + exposure) - lasts;
    return (Math.min(exposure, begins + lasts) - Math.max(0, begins)) / exposure;
  }

  draw(picture: Float32Array): void {
    const { dice, rows, upTo, setup } = this;
    for (let n = poisson(dice, this.mean); n > 0; n--) {
      const { y, radius } = rows[firstAbove(upTo, dice() * this.mean)]!;
      const x = dice() * setup.width;
      const share = this.most * dice() * this.seenFor(dice);
      // Leaves stand before the ground.
      if (setup.foliage[y * setup.width + Math.floor(x)]! > 127) continue;
      spot(picture, setup, { x, y: y + 0.5, radius, share, light: this.light });
    }
  }
}

interface Crown {
  x: number;
  y: number;
  radius: number;
  share: number;
  light: number;
}

/** A crown seen from the side: twice as wide as tall. */
function spot(picture: Float32Array, { width, height }: Setup, { x, y, radius, share, light }: Crown): void {
  const [left, right] = [x - radius, x + radius];
  const [top, bottom] = [y - radius / 2, y + radius / 2];
  for (let py = Math.max(0, Math.floor(top)); py < Math.min(height, bottom); py++) {
    const rows = Math.min(py + 1, bottom) - Math.max(py, top);
    for (let px = Math.max(0, Math.floor(left)); px < Math.min(width, right); px++) {
      const q = share * rows * (Math.min(px + 1, right) - Math.max(px, left));
      mixLight(picture, py * width + px, light, q);
    }
  }
}

/** Index of the first of rising values that is above `x`, or the last. */
function firstAbove(values: readonly number[], x: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! > x) high = middle;
    else low = middle + 1;
  }
  return low;
}
