import { significant } from '../../base/figures.js';
import { normal, quickRandom } from '../../base/random.js';
import { smooth } from '../../engine/smooth.js';
import { SLOWEST_TOLD } from '../../weather/estimate.js';
import { UnrestMeter } from '../../weather/foliage/unrest.js';
import type { Setup, SiteMotion } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';
import { fitted, type Unknown } from '../../weather/wind/fit.js';
import type { ClipSample } from './sample.js';

/**
 * What is to be found, against what is assumed, with how far that may be off: a factor of e for branches and leaves, for
 * neither their weight nor their distance is known; the frequencies of branches of one size differ by a third, and flutter
 * grows with a power of the wind from 0 to 1, which takes two clips to tell.
 */
const UNKNOWNS = {
  branches: { doubt: 1, most: Math.log(8) },
  leaves: { doubt: 1, most: Math.log(8) },
  rhythm: { doubt: 0.4, most: Math.log(2) },
  growth: { doubt: 0.7, most: Math.log(4) },
} as const satisfies Record<string, Unknown>;
type Name = keyof typeof UNKNOWNS;

/** What a share seen and the same simulated differ by, in logarithms, where the model is right; and how many shares tell each on its own. */
const LOOSE = 0.25;
const ON_THEIR_OWN = 3;
/** From this Beaufort number on what was seen says as much of strong wind as it says; below, less the lighter it was. */
const TELLING = 4;
/** What was seen tells a value where it makes this much less doubtful. */
const TOLD = 0.6;
/** Factors from which the best are sought. */
const STARTS = [
  { leaves: 1, rhythm: 1 },
  { leaves: 1, rhythm: 0.7 },
  { leaves: 1, rhythm: 1.4 },
  { leaves: 0.3, rhythm: 1 },
  { leaves: 0.3, rhythm: 0.6 },
  { leaves: 0.3, rhythm: 1.6 },
] as const;
/** Seconds of wind between two runs of a sample. */
const BETWEEN = 8;
/** Frames of each run that are simulated: more say little more. */
const TRIED = 5;
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
  /** The Beaufort number of what was seen. */
  wind: number;
  seen: Float64Array;
  simulated: (motion: SiteMotion) => Float64Array;
}

/** A comparison on frames, with all that it follows from, as parts of a key. */
export interface OnFrames extends Comparison {
  from: readonly unknown[];
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

/** A sample as a camera sees it that compares frames after a box mean of so many pixels' radius. */
export function smoothed(sample: ClipSample, radius: number): ClipSample {
  if (radius === 0) return sample;
  const { width, height, runs } = sample;
  return {
    ...sample,
    runs: runs.map((run) => run.map(({ y, time }) => ({ y: smooth(y, width, height, radius), time }))),
  };
}

/**
 * A clip against itself: its own wind put onto one still frame of each of its runs, with the noise of its sensor.
 * @param setup of the sample's size, from the clip's own conditions
 * @param radius that of the box mean after which changes are counted, pixels; likewise below
 */
export function againstItself(
  { sample, noise }: Seen,
  setup: Setup,
  counted = setup.foliage,
  radius = 0,
): OnFrames {
  const still = { ...setup, from: { ...setup.from, wind: 0 }, to: { wind: setup.from.wind } };
  // Only for trials, which are spared where what they come to is kept.
  let add: ReturnType<typeof noiseFor> | undefined;
  const seen = unrestOf(smoothed(sample, radius), counted).measure();
  return {
    wind: setup.from.wind ?? 0,
    seen,
    from: [...partsOf(sample, still), 'its own wind', noise, seen, counted, radius],
    simulated: (motion) => {
      add ??= noiseFor(noise, setup);
      return blown(sample, { ...still, motion }, (run) => run[0]!.y, add, counted, radius);
    },
  };
}

/**
 * A calm clip made windy against a windy clip.
 * @param setup of the calm sample's size, from its own conditions to those of the windy clip
 * @param windy the windy clip's unrest at the same size
 * @param counted where unrest is counted; left out: where foliage is
 */
export function againstWindy(
  calm: ClipSample,
  setup: Setup,
  windy: Float64Array,
  counted: Uint8Array = setup.foliage,
  radius = 0,
): OnFrames {
  return {
    wind: setup.to.wind ?? 0,
    seen: windy,
    from: [...partsOf(calm, setup), 'that of a windy clip', windy, counted, radius],
    simulated: (motion) => blown(calm, { ...setup, motion }, null, (y) => y, counted, radius),
  };
}

/** What a simulation on a sample follows from: how wind is put on, and the frames that it is put onto. */
function partsOf({ runs, rate }: ClipSample, { foliage, ...setup }: Setup): unknown[] {
  const times = runs.map((run) => run.map(({ time }) => time));
  return [[setup, rate, times], foliage, ...runs.flatMap((run) => run.slice(0, TRIED).map(({ y }) => y))];
}

/**
 * The factors on what is assumed at which simulations change as much as what was seen: shares of changed pixels at several
 * levels, sizes and lags, in logarithms, are brought together; what they say nothing of stays as assumed.
 * @param rate frames per second within a run
 */
export function fitMotion(comparisons: readonly Comparison[], rate: number): Fitted {
  const names: Name[] = ['branches', 'leaves'];
  if (rate >= SLOWEST_TOLD) names.push('rhythm');
  if (comparisons.length > 1) names.push('growth');
  const factorOf = (values: readonly number[], name: Name) => Math.exp(values[names.indexOf(name)] ?? 0);
  const factorsOf = (values: readonly number[]) => ({
    branches: factorOf(values, 'branches'),
    leaves: factorOf(values, 'leaves'),
    rhythm: factorOf(values, 'rhythm'),
    growth: factorOf(values, 'growth'),
  });
  const { values, deviations } = fitted(
    names.map((name) => UNKNOWNS[name]),
    (tried) =>
      Float64Array.from(
        comparisons.flatMap(({ wind, seen, simulated }) => {
          // A light wind that was said half a Beaufort number too high is off by half, and drag with its square; between two
          // winds nothing is carried on beyond what was seen.
          const off = comparisons.length > 1 ? 0 : Math.max(0, 1.5 / Math.max(1, wind) - 1.5 / TELLING);
          const loose = Math.hypot(
            LOOSE * Math.sqrt(seen.length / ON_THEIR_OWN),
            off * Math.sqrt(seen.length),
          );
          return Array.from(simulated({ ...factorsOf(tried), how: '' }), (share, j) =>
            soft((share - seen[j]!) / loose),
          );
        }),
      ),
    startsOf(names),
  );
  return {
    factors: factorsOf(values),
    found: names.map((name, k) => ({
      name,
      told: deviations[k]! < TOLD * UNKNOWNS[name].doubt,
      giveOrTake: Math.exp(1.645 * deviations[k]!),
    })),
  };
}

/**
 * Where the fit begins: branches ruling or leaves, slow or quick. At five frames a second leaves that flutter quickly look like
 * slow ones, so that between the rhythms tried there are valleys which no step leaves.
 */
function startsOf(names: readonly Name[]): number[][] {
  return STARTS.filter(({ rhythm }) => rhythm === 1 || names.includes('rhythm')).map((start) =>
    names.map((name) => Math.log((start as Partial<Record<Name, number>>)[name] ?? 1)),
  );
}

/** A residual whose square grows in proportion only, beyond 1: what the model cannot meet must not rule the rest (Huber 1964). */
function soft(residual: number): number {
  return Math.sign(residual) * Math.sqrt(2 * (Math.hypot(1, residual) - 1));
}

/** Factors on what is assumed, with what was seen to say of each. */
export interface Fitted {
  factors: Omit<SiteMotion, 'how' | 'upTo'>;
  /** Those that were looked for; the others are as assumed. */
  found: {
    name: Name;
    /** Whether what was seen made it much less doubtful. */
    told: boolean;
    /** A factor either way that holds nine in ten where the model is right. */
    giveOrTake: number;
  }[];
}

/** The factors that what was seen tells. */
export function toldIn({ found }: Fitted): Name[] {
  return found.filter(({ told }) => told).map(({ name }) => name);
}

/** What is measured in words, and what only leans to what was seen. Every factor that is used is told. */
export function motionText(where: string, { factors, found }: Fitted): string {
  const say = ({ name, giveOrTake }: Fitted['found'][number]) => {
    const times = `${significant(factors[name], 2)} times`;
    const words: Record<Name, string> = {
      branches: `branches go ${times} as far as assumed`,
      leaves: `leaves flutter ${times} as much`,
      rhythm: `they go to and fro ${times} as quickly`,
      growth: `flutter grows with ${times} the power of the wind`,
    };
    return `${words[name]} (give or take a factor of ${significant(giveOrTake, 2)})`;
  };
  const told = found.filter((one) => one.told).map(say);
  const leaning = found.filter((one) => !one.told).map(say);
  const rest = `it tells too little to be called measured of the rest: ${leaning.join(', ')}`;
  if (told.length === 0) return `sway assumed, leaning to what little ${where} tells: ${leaning.join(', ')}`;
  return `sway measured on ${where}: ${told.join(', ')}${leaning.length === 0 ? '' : `; ${rest}`}`;
}

/** Unrest of a sample with wind put onto it, or onto one still frame of each run. */
function blown(
  { runs }: ClipSample,
  setup: Setup,
  still: ((run: ClipSample['runs'][number]) => Uint8Array) | null,
  finish: (y: Uint8Array, frame: number) => Uint8Array,
  counted: Uint8Array,
  radius: number,
): Float64Array {
  const { width, height } = setup;
  const weather = createWeather(setup);
  const meter = new UnrestMeter(setup.width, setup.height, counted);
  let [begins, frame] = [0, 0];
  for (const run of runs) {
    meter.restart();
    const start = run[0]!.time;
    for (const { y, time } of run.slice(0, TRIED)) {
      const now = finish(weather.apply(still ? still(run) : y, begins + time - start), frame++);
      meter.see(radius === 0 ? now : smooth(now, width, height, radius));
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
      const i = places[n]!;
      // Rounded halves up; in whole numbers, for this runs over all foliage of each trial.
      const above = y[i]! + deviation[n]! * table[(start + n) & (NOISES - 1)]! + 0.5;
      y[i] = above <= 0 ? 0 : above >= 255 ? 255 : above | 0;
    }
    return y;
  };
}
