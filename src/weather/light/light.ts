import { significant } from '../../base/figures.js';
import { Problem } from '../../base/problem.js';
import { type AssumptionName, figureOf, times } from '../assumptions.js';
import { BASE_SPEED, type Exposure, exposureAt, READ_ACROSS } from '../sensor/sensor.js';
import type { Assumed, Optics, Sensing, Setup } from '../setup.js';
import { Dimmer } from './dimmer.js';

/** Lux; taken where it is not known in what light a clip was recorded: full daylight of an overcast sky. */
export const OVERCAST_DAYLIGHT = 10_000;
/** Low light put onto frames, and how the camera takes the scene then. */
export interface LowLight {
  effect: Sensing | null;
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
      `light of ${to.light} lux is brighter than the recording's ${recorded} lux${from.light === undefined ? ' (assumed, because it is not known)' : ''}: noise and blur cannot be taken out of a recording, so only darker can be simulated; ask for less light or start from a brighter clip`,
    );
  }
  const exposure = exposureAt(to.light, optics, rate, aperture);
  if (to.light === recorded) return { effect: null, assumed: [], exposure };
  const assumed = [
    lensText(setup),
    `the sensor is of speed ISO ${BASE_SPEED} at gain 1`,
    `the sensor reads ${READ_ACROSS} elements across the picture, and each pixel averages its share of them`,
    'what moves while the shutter is open is blurred by mixing in the frame before',
    ...(setup.noise?.how ?? []),
  ];
  if (from.light === undefined)
    assumed.push(`the clip was recorded in ${OVERCAST_DAYLIGHT} lux, full daylight of an overcast sky`);
  const was = exposureAt(recorded, optics, rate, aperture);
  let made: Dimmer | null = null;
  const effect: Sensing = {
    take(picture, out) {
      made ??= new Dimmer({ ...setup, optics }, was, exposure);
      made.take(picture, out);
    },
  };
  return { effect, assumed, exposure };
}

/** What is assumed of the lens, in the same words for every weather, so that it is said once of several. */
export function lensText(setup: Setup): string {
  return `the lens is f/${significant(figureOf(setup, 'aperture'), 3)}`;
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
