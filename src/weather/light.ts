import { significant } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import { seedOf, xorshift32 } from '../base/random.js';
import { type AssumptionName, figureOf, times } from './assumptions.js';
import { varianceLeft } from './averaging.js';
import { LIGHT_STEPS, lightOfSignal, SIGNAL_STEPS, signalOfLight } from './gamma.js';
import { lazily } from './lazily.js';
import { varianceOf } from './noise-line.js';
import { BASE_SPEED, deviates, type Exposure, exposureAt, lightVariance, READ_ACROSS } from './sensor.js';
import type { Assumed, Effect, Optics, Setup } from './setup.js';
import { type Spread, storedSpread } from './stored-noise.js';

/** Lux; taken where it is not known in what light a clip was recorded: full daylight of an overcast sky. */
export const OVERCAST_DAYLIGHT = 10_000;
/**
 * Where frames are stored larger than they are compared, noise is drawn for squares of pixels, about so many across each
 * pixel compared: noise of single pixels would have to be so strong that black and white cut most of it.
 */
const ACROSS = 2;
/** Steps of linear light for which a noise is kept. */
const LEVELS = 1024;

/** Low light put onto frames, and how the camera takes the scene then. */
export interface LowLight {
  effect: Effect | null;
  assumed: Assumed[];
  /** null where no light is wanted. */
  exposure: Exposure | null;
}

/**
 * The same scene in less light: longer exposure, so that what moves blurs, then gain and its noise, then darkness.
 * @throws Problem 'usage' where more light is wanted than was recorded
 */
export function createLowLight(setup: Setup): LowLight {
  const { from, to, rate } = setup;
  const optics = doubtedOptics(setup);
  const aperture = figureOf(setup, 'aperture');
  if (to.light === undefined) return { effect: null, assumed: [], exposure: null };
  const recorded = from.light ?? OVERCAST_DAYLIGHT;
  if (to.light > recorded) {
    throw new Problem(
      'usage',
      `light of ${to.light} lux is brighter than the recording's ${recorded} lux${from.light === undefined ? ' (assumed, for it is not known)' : ''}: noise and blur cannot be taken out of a recording, so only darker can be simulated; ask for less light or start from a brighter clip`,
    );
  }
  const exposure = exposureAt(to.light, optics, rate, aperture);
  if (to.light === recorded) return { effect: null, assumed: [], exposure };
  const assumed = [
    `the lens is f/${significant(aperture, 3)} and the sensor of speed ISO ${BASE_SPEED} at gain 1`,
    `the sensor reads ${READ_ACROSS} elements across the picture, and each pixel averages its share of them`,
    'what moves while the shutter is open is blurred by mixing in the frame before',
    ...(setup.noise?.how ?? []),
  ];
  if (from.light === undefined)
    assumed.push(`the clip was recorded in ${OVERCAST_DAYLIGHT} lux, full daylight of an overcast sky`);
  const was = exposureAt(recorded, optics, rate, aperture);
  const effect = lazily(() => new Dimmer({ ...setup, optics }, was, exposure));
  return { effect, assumed, exposure };
}

/** What the sensor can do, as far as it is doubted; what was measured is not. */
function doubtedOptics(setup: Setup): Optics {
  const { optics, noise } = setup;
  const { longest, mostGain, fullWell, readNoise } = optics;
  const doubted = (name: AssumptionName, isMeasured = false) => (isMeasured ? 1 : times(setup, name));
  return {
    longest: longest * doubted('longest exposure', noise?.limits),
    mostGain: Math.max(1, mostGain * doubted('most gain', noise?.limits)),
    fullWell: fullWell * doubted('full well', noise?.measured),
    readNoise: readNoise * doubted('read noise', noise?.readNoise),
  };
}

class Dimmer implements Effect {
  private readonly before: Float32Array;
  private readonly shift = new Float32Array(LEVELS + 1);
  private readonly sigma = new Float32Array(LEVELS + 1);
  private readonly gauss: Float32Array;
  private readonly width: number;
  /** Stored pixels, this many across and down, share their noise. */
  private readonly side: number;
  /** Deviates of the row at hand. */
  private readonly noise: Float32Array;
  /** Share of the light that fell while the picture was still that of the frame before. */
  private readonly past: number;
  private readonly ratio: number;
  private state: number;
  private started = false;

  constructor(setup: Setup, was: Exposure, is: Exposure) {
    const { width, height, optics, seed, rate } = setup;
    const { at, own = null } = setup.noise ?? { at: setup };
    this.width = width;
    this.side = Math.max(1, Math.round(Math.sqrt((width * height) / (at.width * at.height)) / ACROSS));
    this.noise = new Float32Array(width);
    const left = varianceLeft({ width: width / this.side, height: height / this.side }, at);
    this.before = new Float32Array(width * height);
    this.ratio = is.level / was.level;
    // Between two frames the picture goes from one to the other; the light of the last `seconds` before the second counts.
    this.past = Math.min(0.5, ((is.seconds - was.seconds) * rate) / 2);
    this.gauss = deviates(seed);
    this.state = seedOf(seed, 'noise') | 1;
    // Mixing two frames evens out the noise that is in the recording already.
    const kept = (1 - this.past) ** 2 + this.past ** 2;
    let spread: Spread | undefined;
    for (let i = 0; i <= LEVELS; i++) {
      const light = Math.min(1, (i + 0.5) / LEVELS);
      const bright = Math.min(1, light / this.ratio);
      const recorded = own ? varianceOf(own, bright) : lightVariance(bright, was.gain, optics, at.width);
      const wanted = lightVariance(light, is.gain, optics, at.width);
      const lacking = Math.sqrt(Math.max(0, wanted - recorded * this.ratio ** 2 * kept));
      spread = storedSpread(light, lacking, left, spread);
      this.shift[i] = spread.shift;
      this.sigma[i] = spread.sigma;
    }
  }

  apply(picture: Float32Array): void {
    const { before, shift, sigma, gauss, ratio } = this;
    const past = this.started ? this.past : 0;
    this.started = true;
    // Held here: looking a name up in another module for every pixel would cost more than all the rest.
    const [toLight, toSignal, fine, steps] = [lightOfSignal, signalOfLight, SIGNAL_STEPS, LIGHT_STEPS];
    const next = xorshift32;
    const top = 255 * fine;
    let s = this.state;
    const { width, side, noise } = this;
    for (let from = 0, y = 0; from < picture.length; from += width, y++) {
      if (y % side === 0) {
        for (let x = 0; x < width; x += side) {
          s = next(s);
          const deviate = gauss[s >>> 19]!;
          for (let i = x, end = Math.min(width, x + side); i < end; i++) noise[i] = deviate;
        }
      }
      for (let i = from, x = 0; x < width; i++, x++) {
        const step = picture[i]! * fine + 0.5;
        const now = toLight[step <= 0 ? 0 : step >= top ? top : step | 0]!;
        const light = (now + past * (before[i]! - now)) * ratio;
        before[i] = now;
        const level = (light * LEVELS) | 0;
        const noisy = light + shift[level]! + sigma[level]! * noise[x]!;
        picture[i] = toSignal[noisy <= 0 ? 0 : noisy >= 1 ? steps : (noisy * steps + 0.5) | 0]!;
      }
    }
    this.state = s;
  }
}
