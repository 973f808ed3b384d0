import { Problem } from '../base/problem.js';
import { seedOf, xorshift32 } from '../base/random.js';
import { LIGHT_STEPS, lightOfSignal, SIGNAL_STEPS, signalOfLight } from './gamma.js';
import { lazily } from './lazily.js';
import {
  BASE_SPEED,
  deviates,
  type Exposure,
  exposureAt,
  F_NUMBER,
  lightVariance,
  READ_ACROSS,
} from './sensor.js';
import type { Assumed, Effect, Setup } from './setup.js';

/** Lux; taken where it is not known in what light a clip was recorded: full daylight of an overcast sky. */
export const OVERCAST_DAYLIGHT = 10_000;
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
  const { from, to, optics, rate } = setup;
  if (to.light === undefined) return { effect: null, assumed: [], exposure: null };
  const recorded = from.light ?? OVERCAST_DAYLIGHT;
  if (to.light > recorded) {
    throw new Problem(
      'usage',
      `light of ${to.light} lux is brighter than the recording's ${recorded} lux${from.light === undefined ? ' (assumed, for it is not known)' : ''}: noise and blur cannot be taken out of a recording, so only darker can be simulated; ask for less light or start from a brighter clip`,
    );
  }
  const exposure = exposureAt(to.light, optics, rate);
  if (to.light === recorded) return { effect: null, assumed: [], exposure };
  const assumed = [
    `the lens is f/${F_NUMBER} and the sensor of speed ISO ${BASE_SPEED} at gain 1`,
    `the sensor reads ${READ_ACROSS} elements across the picture, and each pixel averages its share of them`,
    'what moves while the shutter is open is blurred by mixing in the frame before',
  ];
  if (from.light === undefined)
    assumed.push(`the clip was recorded in ${OVERCAST_DAYLIGHT} lux, full daylight of an overcast sky`);
  const effect = lazily(() => new Dimmer(setup, exposureAt(recorded, optics, rate), exposure));
  return { effect, assumed, exposure };
}

class Dimmer implements Effect {
  private readonly before: Float32Array;
  private readonly sigma = new Float32Array(LEVELS + 1);
  private readonly gauss: Float32Array;
  /** Share of the light that fell while the picture was still that of the frame before. */
  private readonly past: number;
  private readonly ratio: number;
  private state: number;
  private started = false;

  constructor({ width, height, optics, seed, rate }: Setup, was: Exposure, is: Exposure) {
    this.before = new Float32Array(width * height);
    this.ratio = is.level / was.level;
    // Between two frames the picture goes from one to the other; the light of the last `seconds` before the second counts.
    this.past = Math.min(0.5, ((is.seconds - was.seconds) * rate) / 2);
    this.gauss = deviates(seed);
    this.state = seedOf(seed, 'noise') | 1;
    // Mixing two frames evens out the noise that is in the recording already.
    const kept = (1 - this.past) ** 2 + this.past ** 2;
    for (let i = 0; i <= LEVELS; i++) {
      const light = Math.min(1, (i + 0.5) / LEVELS);
      const recorded = lightVariance(Math.min(1, light / this.ratio), was.gain, optics, width);
      const wanted = lightVariance(light, is.gain, optics, width);
      this.sigma[i] = Math.sqrt(Math.max(0, wanted - recorded * this.ratio ** 2 * kept));
    }
  }

  apply(picture: Float32Array): void {
    const { before, sigma, gauss, ratio } = this;
    const past = this.started ? this.past : 0;
    this.started = true;
    // Held here: looking a name up in another module for every pixel would cost more than all the rest.
    const [toLight, toSignal, fine, steps] = [lightOfSignal, signalOfLight, SIGNAL_STEPS, LIGHT_STEPS];
    const next = xorshift32;
    const top = 255 * fine;
    let s = this.state;
    for (let i = 0; i < picture.length; i++) {
      const step = picture[i]! * fine + 0.5;
      const now = toLight[step <= 0 ? 0 : step >= top ? top : step | 0]!;
      const light = (now + past * (before[i]! - now)) * ratio;
      before[i] = now;
      s = next(s);
      const noisy = light + sigma[(light * LEVELS) | 0]! * gauss[s >>> 19]!;
      picture[i] = toSignal[noisy <= 0 ? 0 : noisy >= 1 ? steps : (noisy * steps + 0.5) | 0]!;
    }
    this.state = s;
  }
}
