import { between, poisson, type Random } from '../../base/random.js';
import { figureOf } from '../assumptions.js';
import { LIGHT_STEPS, lightOfSignal, SIGNAL_STEPS, signalOfLight } from '../gamma.js';
import type { Setup } from '../setup.js';
import { Falling } from './drops.js';
import { spansOf } from './spans.js';
import { drawStreak, eachPixelOfDot, focalPixels } from './streaks.js';

/** Seconds for which it has rained before the clip begins. */
const RAINED = 600;
/** A wet cover holds no more: then one runs. */
const MOST = 60;
/** A drop that sits is half a ball, this much wider than the ball that fell: 2^(1/3). */
const SPREAD = Math.cbrt(2);

interface Bead {
  x: number;
  y: number;
  wide: number;
  light: number;
}

/** One that runs down: since when, seconds from the clip's start. */
interface Run extends Bead {
  since: number;
}

/**
 * A wet cover before the lens: blurred drops that sit where they fell until a large one, which others ran into, takes along
 * all that it meets on its way down; and a slight blur of everything.
 */
export class WetCover {
  private beads: Bead[] = [];
  private runs: Run[] = [];
  private readonly falling: Falling;
  /** Drops in a second within the view. */
  private readonly arrivals: number;
  private readonly perMetre: number;
  private readonly soft: number;
  private readonly runSize: number;
  private readonly runSpeed: number;
  private readonly blurred: number;
  private readonly drop: number;
  /** Cubic millimetres (of diameter cubed) that came since the last one ran. */
  private gathered = 0;
  /** The row above the one that is blurred, as it was. */
  private readonly above: Float32Array;
  /** Share of the light that comes through between the drops, and the drops' own light, of each pixel. */
  private readonly through: Float32Array;
  private readonly own: Float32Array;
  /** Where drops sit, and whether that is to be found anew. */
  private under: Uint32Array = new Uint32Array(0);
  private moved = true;

  /** @param soft pixels that what is at a distance (metres) is blurred to either side */
  constructor(
    private readonly setup: Setup,
    private readonly dice: Random,
    softAt: (distance: number) => number,
  ) {
    const { width, height, geometry, from, to } = setup;
    const distance = figureOf(setup, 'cover distance');
    this.perMetre = focalPixels(width, geometry.hfov) / distance;
    this.soft = softAt(distance);
    this.runSize = figureOf(setup, 'cover run size');
    this.runSpeed = figureOf(setup, 'cover run speed');
    this.blurred = figureOf(setup, 'cover blur');
    this.drop = figureOf(setup, 'drop light');
    this.falling = new Falling(to.rain ?? 0, from.rain ?? 0);
    const squareMetres = (width * height) / this.perMetre ** 2;
    this.arrivals = figureOf(setup, 'cover rain') * squareMetres * this.falling.strikes;
    this.above = new Float32Array(width);
    this.through = new Float32Array(width * height).fill(1);
    this.own = new Float32Array(width * height);
    for (let n = Math.min(MOST, poisson(dice, this.arrivals * RAINED)); n > 0; n--) this.sit();
  }

  draw(picture: Float32Array, time: number, passed: number): void {
    const { dice, setup } = this;
    this.blur(picture);
    for (let n = poisson(dice, this.arrivals * passed); n > 0; n--) {
      this.gathered += this.sit() ** 3;
      // A large one is half a ball as well.
      const large = this.runSize / SPREAD;
      if (this.gathered < large ** 3 && this.beads.length <= MOST) continue;
      this.gathered = 0;
      this.run(time - passed * dice());
    }
    this.lay(picture);
    const wide = (this.runSize / 1000) * this.perMetre;
    this.runs = this.runs.filter(({ y, since }) => y + this.ran(time - since) < setup.height + wide);
    for (const run of this.runs) {
      const y = run.y + this.ran(time - run.since) - wide / 2;
      drawStreak(picture, setup.width, setup.height, this.seen({ ...run, y }));
    }
  }

  private ran(seconds: number): number {
    return Math.max(0, seconds) * this.runSpeed * this.perMetre;
  }

  /** A drop that fell here and stays; its diameter in mm before. */
  private sit(): number {
    const { dice, setup } = this;
    const diameter = this.falling.draw(dice);
    const bead = {
      x: dice() * setup.width,
      y: dice() * setup.height,
      wide: ((SPREAD * diameter) / 1000) * this.perMetre,
      light: this.drop * between(dice, 0.5, 1.5),
    };
    this.beads.push(bead);
    this.cover(bead);
    return diameter;
  }

  /** One begins to run, and takes along what is below it. */
  private run(since: number): void {
    const { dice } = this;
    const start = this.beads[Math.floor(dice() * this.beads.length)]!;
    const wide = (this.runSize / 1000) * this.perMetre;
    this.beads = this.beads.filter(
      (bead) => bead.y < start.y || Math.abs(bead.x - start.x) > (wide + bead.wide) / 2,
    );
    this.through.fill(1);
    this.own.fill(0);
    for (const bead of this.beads) this.cover(bead);
    this.runs.push({ ...start, wide, since });
  }

  private seen({ x, y, wide, light }: Bead) {
    return { x, y, long: wide, wide, share: 1, soft: this.soft, light };
  }

  private cover(bead: Bead): void {
    const { through, own, setup } = this;
    this.moved = true;
    const middle = { ...bead, y: bead.y - bead.wide / 2 };
    eachPixelOfDot(setup.width, setup.height, this.seen(middle), (at, share) => {
      through[at]! *= 1 - share;
      own[at] = own[at]! * (1 - share) + bead.light * share;
    });
  }

  /** What sits, four pixels at a time: going round takes half of it. */
  private lay(picture: Float32Array): void {
    const { through, own } = this;
    if (this.moved) this.under = spansOf(through, (share) => (share === 1 ? undefined : 1));
    this.moved = false;
    const { under } = this;
    const [toLight, toSignal, fine, steps] = [lightOfSignal, signalOfLight, SIGNAL_STEPS, LIGHT_STEPS];
    // What is behind was looked up, and so is no signal beyond the ends.
    const mixed = (signal: number, share: number, drop: number) => {
      const light = (toLight[(signal * fine + 0.5) | 0]! * share + drop) * steps + 0.5;
      return toSignal[light >= steps ? steps : light | 0]!;
    };
    for (let n = 0; n < under.length; n += 3) {
      const end = under[n + 1]!;
      let at = under[n]!;
      for (; at + 3 < end; at += 4) {
        picture[at] = mixed(picture[at]!, through[at]!, own[at]!);
        picture[at + 1] = mixed(picture[at + 1]!, through[at + 1]!, own[at + 1]!);
        picture[at + 2] = mixed(picture[at + 2]!, through[at + 2]!, own[at + 2]!);
        picture[at + 3] = mixed(picture[at + 3]!, through[at + 3]!, own[at + 3]!);
      }
      for (; at < end; at++) picture[at] = mixed(picture[at]!, through[at]!, own[at]!);
    }
  }

  /** Each pixel with its four neighbours; two at a time. */
  private blur(picture: Float32Array): void {
    const { above, blurred } = this;
    const { width, height } = this.setup;
    const keep = 1 - blurred;
    const give = blurred / 4;
    above.set(picture.subarray(0, width));
    for (let y = 0; y < height; y++) {
      const start = y * width;
      const below = y + 1 < height ? width : 0;
      const end = start + width - 1;
      let left = picture[start]!;
      let here = left;
      let at = start;
      let x = 0;
      for (; at + 1 < end; at += 2, x += 2) {
        const right = picture[at + 1]!;
        const next = picture[at + 2]!;
        picture[at] = keep * here + give * (left + right + above[x]! + picture[at + below]!);
        picture[at + 1] = keep * right + give * (here + next + above[x + 1]! + picture[at + 1 + below]!);
        above[x] = here;
        above[x + 1] = right;
        left = right;
        here = next;
      }
      for (; at <= end; at++, x++) {
        const right = at < end ? picture[at + 1]! : here;
        picture[at] = keep * here + give * (left + right + above[x]! + picture[at + below]!);
        above[x] = here;
        left = here;
        here = right;
      }
    }
  }
}
