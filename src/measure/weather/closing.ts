import { EvidenceMeter } from '../../engine/evidence.js';
import { Differencer } from '../../engine/pipeline.js';
import type { Cache } from '../../store/cache.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import type { Size } from '../../weather/averaging.js';
import type { Setup, SiteMotion } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';
import { fitted, type Unknown } from '../../weather/wind/fit.js';
import { WEATHER_MEANING } from './evidence.js';
import type { ClipSample } from './sample.js';

/** Grey levels at which evidence is compared: from a sensitive camera's threshold to a dull one's. */
const LEVELS = [8, 12, 18, 27, 40] as const;
/** Pixels added to each mean area before its logarithm is taken: fewer are chance. */
const CHANCE = 1;
/**
 * Stretches of wind that are tried, seconds from one to the next, and frames of each: many short ones tell more of gusts than a
 * few long ones.
 */
const WINDS = 24;
const APART = 5;
const FRAMES = 4;
/** What a mean area seen and the same simulated differ by, in logarithms, where the model is right. */
const LOOSE = 0.5;
/** How far all motion, and the power of what weighs places against one another, may be off what was fitted before. */
const UNKNOWNS: readonly Unknown[] = [
  { doubt: 1, most: Math.log(3) },
  { doubt: 0.5, most: Math.log(3) },
];

/** How a camera compares frames: at a size, after a box mean of some radius, pixels. */
export type Comparing = Size & { radius: number };

/** What brings a simulation to what a camera sees of the wind it was measured in. */
export interface Closed {
  /** What branches and leaves go, against what was fitted to shares of changed pixels. */
  times: number;
  /** How far each place goes, 255 farthest; of the same size. */
  weights: Uint8Array;
}

/** Two numbers by which `closedWith` comes nearest: logarithms of what all goes, and of the power of the weights. */
type Found = [times: number, power: number];

/**
 * Closes the loop: the calm clip made windy shows a camera what the windy clip shows it, in how much changes and how large the largest region
 * of it is, at several thresholds. What the fit before it brings together are shares of pixels one by one, of which a camera's
 * regions are made, but which do not tell them. Two numbers are sought: how far all goes, and how evenly.
 *
 * @param setup of the samples' size, from the conditions of the calm clip to those of the windy one; its foliage weighed
 * @param motion as fitted
 * @param map what can sway, weighed or not: elsewhere nothing is compared
 */
export function closedWith(...of: Parameters<typeof found>): Closed {
  return closedBy(found(...of), of[2].foliage);
}

/** Raised whenever the same clips come to other numbers. */
const MEANING = 1;

/** As `closedWith`, but what an earlier run came to by the same frames is taken from the cache. */
export async function keptClosed(cache: Cache, ...of: Parameters<typeof found>): Promise<Closed> {
  const [calm, windy, { foliage, ...setup }, motion, map, radius] = of;
  const frames = [calm, windy].flatMap(({ runs }) => runs.flatMap((run) => run.map(({ y }) => y)));
  const times = calm.runs.map((run) => run.map(({ time }) => time));
  const parts = ['closed', MEANING, WEATHER_MEANING, setup, motion, times, radius];
  const entry = ['sway', keyOf(parts, foliage, map, ...frames)];
  const kept = await readSealed(cache, entry);
  if (kept) return closedBy(JSON.parse(kept.toString('utf8')) as Found, foliage);
  const made = found(...of);
  await writeSealed(cache, entry, Buffer.from(JSON.stringify(made)));
  return closedBy(made, foliage);
}

function closedBy([times, power]: Found, foliage: Uint8Array): Closed {
  return { times: Math.exp(times), weights: raised(foliage, Math.exp(power)) };
}

function found(
  calm: ClipSample,
  windy: ClipSample,
  setup: Setup,
  motion: Omit<SiteMotion, 'how'>,
  map: Uint8Array,
  radius: number,
): Found {
  const at = { width: setup.width, height: setup.height, radius };
  const masked = map.map((value) => (value > 0 ? 0 : 1));
  const seen = areasOf(
    windy.runs.map((run) => run.map(({ y }) => y)),
    at,
    masked,
  );
  const { values } = fitted(UNKNOWNS, ([times, power]) => {
    const by = Math.exp(times!);
    const tried = { ...motion, branches: motion.branches * by, leaves: motion.leaves * by, how: '' };
    const foliage = raised(setup.foliage, Math.exp(power!));
    const simulated = areasOf(windsOn(calm, { ...setup, foliage, motion: tried }), at, masked);
    return Float64Array.from(simulated, (area, n) => (area - seen[n]!) / LOOSE);
  });
  return [values[0]!, values[1]!];
}

/** Logarithms of mean areas, pixels: what changes by each level from frame to frame, then the largest region of it. */
function areasOf(
  runs: Iterable<readonly Uint8Array[]>,
  { width, height, radius }: Comparing,
  mask: Uint8Array,
): Float64Array {
  const meter = new EvidenceMeter(width, height, LEVELS[0]);
  const reference = { kind: 'previous', lag: 1 } as const;
  const sums = new Float64Array(2 * LEVELS.length);
  let pairs = 0;
  for (const run of runs) {
    const differencer = new Differencer({ width, height, smooth: radius, reference, mask });
    run.forEach((y, k) => {
      const difference = differencer.next(y, k);
      if (k === 0) return;
      const { changed, region } = meter.measure(difference);
      LEVELS.forEach((level, n) => {
        sums[n]! += changed[level]!;
        sums[LEVELS.length + n]! += region[level]!;
      });
      pairs++;
    });
  }
  return sums.map((sum) => Math.log(sum / Math.max(1, pairs) + CHANCE));
}

/** A map with every share of 255 raised to a power: above 1 what goes far stands out, below 1 all goes more alike. */
function raised(map: Uint8Array, power: number): Uint8Array {
  const table = Uint8Array.from({ length: 256 }, (_, value) => Math.round(255 * (value / 255) ** power));
  return map.map((value) => table[value]!);
}

/** The first frames of each run in turn, each time in other wind. */
function* windsOn({ runs }: ClipSample, setup: Setup): Generator<Uint8Array[]> {
  const weather = createWeather(setup);
  for (let n = 0; n < WINDS; n++) {
    const run = runs[n % runs.length]!;
    const start = run[0]!.time;
    yield run.slice(0, FRAMES).map(({ y, time }) => weather.apply(y, n * APART + time - start).slice());
  }
}
