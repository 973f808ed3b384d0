import { between, poisson, type Random } from '../base/random.js';
import { strikes } from './drops.js';
import type { Setup } from './setup.js';
import { drawStreak, focalPixels } from './streaks.js';

/** Metres before the lens; share of the falling drops that reach an upright cover, carried by wind; assumed. */
export const COVER_DISTANCE = 0.05;
export const COVER_REACHED = 0.1;
/** Width of a drop that sits on it, mm; seconds until it runs down, m/s at which it runs, share of light it takes; assumed. */
export const COVER_DROP = 4;
export const COVER_SITS = 20;
export const COVER_RUN = 0.1;
export const COVER_SHARE = 0.08;
/** Share of each pixel that a wet cover spreads over its neighbours; assumed. */
export const COVER_BLUR = 0.3;
/** Sooner or later drops join and run. */
const MOST = 40;

interface Bead {
  x: number;
  y: number;
  share: number;
  /** Seconds from the clip's start. */
  runsAt: number;
}

/** A wet cover before the lens: blurred drops that sit, then run down; and a slight blur of everything. */
export class WetCover {
  private readonly beads: Bead[] = [];
  private readonly arrivals: number;
  private readonly focal: number;
  private readonly row: Float32Array;

  constructor(
    private readonly setup: Setup,
    private readonly dice: Random,
  ) {
    const { width, height, geometry, from, to } = setup;
    this.focal = focalPixels(width, geometry.hfov);
    const squareMetres = (width * height * COVER_DISTANCE ** 2) / this.focal ** 2;
    this.arrivals = COVER_REACHED * squareMetres * (strikes(to.rain ?? 0) - strikes(from.rain ?? 0));
    this.row = new Float32Array(width);
    // It has rained before the clip begins.
    for (let n = Math.min(MOST, poisson(dice, this.arrivals * COVER_SITS)); n > 0; n--)
      this.beads.push(this.bead(0));
  }

  draw(picture: Float32Array, time: number, passed: number): void {
    const { beads, dice, setup, focal } = this;
    this.blur(picture);
    for (let n = poisson(dice, this.arrivals * passed); n > 0; n--) beads.push(this.bead(time));
    if (beads.length > MOST) beads.splice(0, beads.length - MOST);
    const wide = (focal * COVER_DROP) / 1000 / COVER_DISTANCE;
    for (let n = beads.length - 1; n >= 0; n--) {
      const b = beads[n]!;
      const ran = (Math.max(0, time - b.runsAt) * COVER_RUN * focal) / COVER_DISTANCE;
      if (b.y + ran > setup.height + wide) {
        beads.splice(n, 1);
        continue;
      }
      drawStreak(picture, setup.width, setup.height, {
        x: b.x,
        y: b.y + ran - wide / 2,
        long: wide,
        wide,
        slant: 0,
        share: b.share,
        soft: wide / 3,
      });
    }
  }

  private bead(time: number): Bead {
    const { dice, setup } = this;
    return {
      x: dice() * setup.width,
      y: dice() * setup.height,
      share: COVER_SHARE * between(dice, 0.5, 1.5),
      runsAt: time - COVER_SITS * Math.log(1 - dice()),
    };
  }

  /** Each pixel with its four neighbours. */
  private blur(picture: Float32Array): void {
    const { row } = this;
    const { width, height } = this.setup;
    const keep = 1 - COVER_BLUR;
    const give = COVER_BLUR / 4;
    row.set(picture.subarray(0, width));
    for (let y = 0; y < height; y++) {
      const below = y + 1 < height ? width : 0;
      let left = picture[y * width]!;
      for (let x = 0; x < width; x++) {
        const at = y * width + x;
        const here = picture[at]!;
        const right = x + 1 < width ? picture[at + 1]! : here;
        picture[at] = keep * here + give * (left + right + row[x]! + picture[at + below]!);
        row[x] = here;
        left = here;
      }
    }
  }
}
