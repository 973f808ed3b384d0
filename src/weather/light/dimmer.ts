import { seedOf, xorshift32 } from '../../base/random.js';
import { varianceLeft } from '../averaging.js';
import { LIGHT_STEPS, linearOf, signalOf, signalOfLight } from '../gamma.js';
import { CODES, grain, RUN, stretched } from '../sensor/grain.js';
import { varianceOf } from '../sensor/noise-line.js';
import { type Exposure, lightVariance } from '../sensor/sensor.js';
import { type Spread, storedSpread } from '../sensor/stored-noise.js';
import type { Sensing, Setup } from '../setup.js';

/**
 * Where frames are stored larger than they are compared, noise is drawn for squares of pixels, about so many across each
 * pixel compared: noise of single pixels would have to be so strong that black and white cut most of it.
 */
const ACROSS = 2;
/** Steps to a grey level, of what comes in and of what would go out without noise. */
const FINE = 4;
const TOP = 255 * FINE;

/**
 * Less light on the sensor. What each of its steps with each deviate comes to is worked out beforehand, so that a pixel costs
 * a few readings of tables; they stay in the nearer memory.
 */
export class Dimmer implements Sensing {
  /** The picture in steps of a grey level: 1, or 1 / FINE. */
  private readonly steps: Uint16Array;
  /** Light of a step, in LIGHT_STEPS: of whole grey levels and of finer ones. */
  private readonly whole: Float32Array;
  private readonly fine: Float32Array;
  private readonly before: Float32Array;
  /** Of each light, where in `grey` its deviates begin; and grey levels with noise, rounded, of each of them. */
  private readonly rowOf: Int32Array;
  private readonly grey: Uint8Array;
  /** Deviates, each as often as pixels beside one another share it. */
  private readonly codes: Uint8Array;
  private readonly width: number;
  /** Stored pixels, this many across and down, share their noise. */
  private readonly side: number;
  /** Share of the light that fell while the picture was still that of the frame before. */
  private readonly past: number;
  private state: number;
  private started = false;

  constructor(setup: Setup, was: Exposure, is: Exposure) {
    const { width, height, seed, rate } = setup;
    const { at } = setup.noise ?? { at: setup };
    this.width = width;
    this.side = Math.max(1, Math.round(Math.sqrt((width * height) / (at.width * at.height)) / ACROSS));
    const left = varianceLeft({ width: width / this.side, height: height / this.side }, at);
    // Between two frames the picture goes from one to the other; the light of the last `seconds` before the second counts.
    this.past = Math.min(0.5, ((is.seconds - was.seconds) * rate) / 2);
    const ratio = is.level / was.level;
    const lightOf = (signal: number) => linearOf(signal) * ratio * LIGHT_STEPS;
    this.steps = new Uint16Array(width * height);
    this.whole = Float32Array.from({ length: 256 }, (_, i) => lightOf(i / 255));
    this.fine = Float32Array.from({ length: TOP + 1 }, (_, i) => lightOf(i / TOP));
    this.before = new Float32Array(width * height);
    this.rowOf = Int32Array.from(
      { length: LIGHT_STEPS + 1 },
      (_, i) => CODES * Math.round(TOP * signalOf(Math.min(1, (i + 0.5) / LIGHT_STEPS))),
    );
    const rows = this.rowOf[Math.floor(Math.min(1, ratio) * LIGHT_STEPS)]! / CODES + 1;
    this.grey = greyWithNoise(rows, left, this.lackingAt(setup, was, is));
    this.codes = stretched(grain().codes, this.side);
    this.state = seedOf(seed, 'noise') | 1;
  }

  /** What noise is still lacking, as a standard deviation, where the light comes to `light`; both of 1. */
  private lackingAt(
    { optics, noise, ...setup }: Setup,
    was: Exposure,
    is: Exposure,
  ): (light: number) => number {
    const { at, own = null } = noise ?? { at: setup };
    const ratio = is.level / was.level;
    // Mixing two frames evens out the noise that is in the recording already.
    const kept = (1 - this.past) ** 2 + this.past ** 2;
    return (light) => {
      const bright = Math.min(1, light / ratio);
      const recorded = own ? varianceOf(own, bright) : lightVariance(bright, was.gain, optics, at.width);
      const wanted = lightVariance(light, is.gain, optics, at.width);
      return Math.sqrt(Math.max(0, wanted - recorded * ratio ** 2 * kept));
    };
  }

  take(picture: Uint8Array | Float32Array, out: Uint8Array): void {
    const { steps } = this;
    if (picture instanceof Uint8Array) steps.set(picture);
    else toSteps(picture, steps);
    this.expose(picture instanceof Uint8Array ? this.whole : this.fine, out);
  }

  private expose(lightOf: Float32Array, out: Uint8Array): void {
    // Held here: looking a name up for every pixel would cost more than all the rest.
    const { steps, before, rowOf, grey, codes, width, side } = this;
    const next = xorshift32;
    const past = this.started ? this.past : 0;
    this.started = true;
    const run = RUN * side;
    let s = this.state;
    let ofRow = s;
    for (let from = 0, y = 0; from < steps.length; from += width, y++) {
      // Rows that share their noise read the same places.
      if (y % side === 0) ofRow = s;
      else s = ofRow;
      for (let x = 0; x < width; x += run) {
        s = next(s);
        let at = (s >>> 16) * side;
        for (let i = from + x, end = from + Math.min(width, x + run); i < end; i++, at++) {
          const now = lightOf[steps[i]!]!;
          const light = now + past * (before[i]! - now);
          before[i] = now;
          out[i] = grey[rowOf[light | 0]! | codes[at]!]!;
        }
      }
    }
    this.state = s;
  }
}

function toSteps(picture: Float32Array, steps: Uint16Array): void {
  const [fine, top] = [FINE, TOP];
  for (let i = 0; i < steps.length; i++) {
    steps[i] = Math.min(top, Math.max(0, picture[i]! * fine + 0.5));
  }
}

/**
 * Grey levels of noisy light, rounded, one after the other for each code of a deviate.
 * @param rows steps of a grey level, from black
 * @param left what is left of a stored pixel's variance where frames are compared, 0 to 1
 * @param lackingAt standard deviation of the noise on some light, both of 1
 */
function greyWithNoise(rows: number, left: number, lackingAt: (light: number) => number): Uint8Array {
  const { values } = grain();
  const [steps, toSignal] = [LIGHT_STEPS, signalOfLight];
  const out = new Uint8Array(rows * CODES);
  let spread: Spread | undefined;
  for (let row = 0, at = 0; row < rows; row++) {
    const light = linearOf(row / TOP);
    spread = storedSpread(light, lackingAt(light), left, spread);
    const { shift, sigma } = spread;
    for (let code = 0; code < CODES; code++, at++) {
      const noisy = (light + shift + sigma * values[code]!) * steps + 0.5;
      out[at] = toSignal[noisy <= 0 ? 0 : noisy >= steps ? steps : noisy | 0]! + 0.5;
    }
  }
  return out;
}
