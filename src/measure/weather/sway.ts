import { significant } from '../../base/figures.js';
import { normal, quickRandom } from '../../base/random.js';
import { SLOWEST_TOLD } from '../../weather/estimate.js';
import { type Fit, fitted, type Unknown } from '../../weather/fit.js';
import type { Setup, SiteMotion } from '../../weather/setup.js';
import { UnrestMeter } from '../../weather/unrest.js';
import { createWeather } from '../../weather/weather.js';
import type { ClipSample } from './sample.js';

/**
 * What is to be found, against what is assumed, with how far that may be off: a factor of e for branches and leaves, for
 * neither their weight nor their distance is known; the frequencies of branches of one size differ by a third.
 */
const UNKNOWNS = {
  branches: { doubt: 1, most: Math.log(8) },
  leaves: { doubt: 1, most: Math.log(8) },
  rhythm: { doubt: 0.3, most: Math.log(2) },
} as const satisfies Record<string, Unknown>;
const NAMES = ['branches', 'leaves', 'rhythm'] as const;

/** What a share seen and the same simulated differ by, in logarithms, where the model is right; and how many shares tell each on its own. */
const LOOSE = 0.25;
const ON_THEIR_OWN = 3;
/** What was seen tells a value where it makes this much less doubtful. */
const TOLD = 0.6;
/** Seconds of wind between two runs of a sample. */
const BETWEEN = 8;
const NOISES = 1 << 15;
/** Least mean squared change: that of rounding. */
const ROUNDING = 1 / 6;

/** What a clip shows of sway. */
export interface Seen {
  sample: ClipSample;
  /** Mean squared change that the sensor's noise makes, for each pixel of the sample. */
  noise: Float32Array;
}

/** One comparison: what was seen, and what a simulation with given factors would show of the same. */
export interface Comparison {
  seen: Float64Array;
  simulated: (motion: SiteMotion) => Float64Array;
}

/** Unrest of a sample as recorded, where there is foliage. */
export function unrestOf({ runs, width, height }: ClipSample, foliage: Uint8Array): UnrestMeter {
  const meter = new UnrestMeter(width, height, foliage);
  for (const run of runs) {
    meter.restart();
    for (const { y } of run) meter.see(y);
  }
  return meter;
}

/**
 * A clip against itself: its own wind put onto one still frame of each of its runs, with the noise of its sensor.
 * @param setup of the sample's size, from the clip's own conditions
 */
export function againstItself({ sample, noise }: Seen, setup: Setup): Comparison {
  const still = { ...setup, from: { ...setup.from, wind: 0 }, to: { wind: setup.from.wind } };
  const add = noiseFor(noise, setup);
  return {
    seen: unrestOf(sample, setup.foliage).measure(),
    simulated: (motion) => blown(sample, { ...still, motion }, (run) => run[0]!.y, add),
  };
}

/**
 * A calm clip made windy against a windy clip.
 * @param setup of the calm sample's size, from its own conditions to those of the windy clip
 * @param windy the windy clip's unrest at the same size
 */
export function againstWindy(calm: ClipSample, setup: Setup, windy: Float64Array): Comparison {
  return { seen: windy, simulated: (motion) => blown(calm, { ...setup, motion }, null, (y) => y) };
}

/**
 * The factors on what is assumed at which simulations change as much as what was seen: shares of changed pixels at several
 * levels, sizes and lags, in logarithms, are brought together; what they say nothing of stays as assumed.
 * @param rate frames per second within a run
 */
export function fitMotion(
  comparisons: readonly Comparison[],
  rate: number,
): Omit<SiteMotion, 'how'> & { told: Told } {
  const names = rate < SLOWEST_TOLD ? NAMES.slice(0, 2) : NAMES;
  const motionOf = (values: readonly number[]) => ({
    branches: Math.exp(values[0]!),
    leaves: Math.exp(values[1]!),
    rhythm: Math.exp(values[2] ?? 0),
    how: '',
  });
  const unknowns = names.map((name) => UNKNOWNS[name]);
  const fit = fitted(unknowns, (values) =>
    Float64Array.from(
      comparisons.flatMap(({ seen, simulated }) => {
        const loose = LOOSE * Math.sqrt(seen.length / ON_THEIR_OWN);
        return Array.from(simulated(motionOf(values)), (s, j) => (s - seen[j]!) / loose);
      }),
    ),
  );
  const { branches, leaves, rhythm } = motionOf(fit.values);
  return { branches, leaves, rhythm, told: toldBy(fit, unknowns) };
}

/** Which of the factors what was seen tells. */
interface Told {
  branches: boolean;
  leaves: boolean;
  rhythm: boolean;
}

function toldBy({ deviations }: Fit, unknowns: readonly Unknown[]): Told {
  const [branches = false, leaves = false, rhythm = false] = deviations.map(
    (deviation, k) => deviation < TOLD * unknowns[k]!.doubt,
  );
  return { branches, leaves, rhythm };
}

/** What is measured in words, and what is not. */
export function motionText(
  where: string,
  { branches, leaves, rhythm, told }: ReturnType<typeof fitMotion>,
): string {
  const times = (factor: number) => `${significant(factor, 2)} times`;
  const parts = [
    ...(told.branches ? [`branches go ${times(branches)} as far as assumed`] : []),
    ...(told.leaves ? [`leaves flutter ${times(leaves)} as much as assumed`] : []),
    ...(told.rhythm ? [`branches go to and fro ${times(rhythm)} as quickly as assumed`] : []),
  ];
  const left = told.branches ? '' : '; it tells too little of how far branches go, which is assumed';
  return parts.length === 0
    ? `sway assumed, for ${where} tells too little of it`
    : `sway measured on ${where}: ${parts.join(', ')}${left}`;
}

/** Unrest of a sample with wind put onto it, or onto one still frame of each run. */
function blown(
  { runs }: ClipSample,
  setup: Setup,
  still: ((run: ClipSample['runs'][number]) => Uint8Array) | null,
  finish: (y: Uint8Array, frame: number) => Uint8Array,
): Float64Array {
  const weather = createWeather(setup);
  const meter = new UnrestMeter(setup.width, setup.height, setup.foliage);
  let [begins, frame] = [0, 0];
  for (const run of runs) {
    meter.restart();
    const start = run[0]!.time;
    for (const { y, time } of run) {
      meter.see(finish(weather.apply(still ? still(run) : y, begins + time - start), frame++));
    }
    begins += run.at(-1)!.time - start + BETWEEN;
  }
  return meter.measure();
}

/** Adds the sensor's noise to foliage, the same at every trial. */
function noiseFor(noise: Float32Array, { foliage, seed }: Setup) {
  const random = quickRandom(seed, 'sway/noise');
  const table = Float32Array.from({ length: NOISES }, () => normal(random));
  const starts = Array.from({ length: 256 }, () => Math.floor(random() * NOISES));
  const places = Uint32Array.from(foliage.keys()).filter((i) => foliage[i]! > 0);
  // Two frames differ by the noise of both.
  const deviation = Float32Array.from(places, (i) => Math.sqrt(Math.max(0, noise[i]! - ROUNDING) / 2));
  return (y: Uint8Array, frame: number): Uint8Array => {
    const start = starts[frame & 255]!;
    for (let n = 0; n < places.length; n++) {
      const value = y[places[n]!]! + deviation[n]! * table[(start + n) & (NOISES - 1)]!;
      y[places[n]!] = Math.min(255, Math.max(0, Math.round(value)));
    }
    return y;
  };
}
