import { smooth } from '../../engine/smooth.js';
import type { Cache } from '../../store/cache.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import type { Setup } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';
import { reachesOf } from '../../weather/wind/spread.js';
import { WEATHER_MEANING } from './evidence.js';
import type { ClipSample } from './sample.js';
import { smoothed } from './sway.js';

/** Layouts of branches over which simulated motion is averaged, so that where one of them has its tips does not count. */
const LAYOUTS = 2;
/** Where what moves goes farther than it is wide, change grows less than its way: what is left is made up for anew. */
const ROUNDS = 3;
/** Seconds of wind between two runs of a sample. */
const BETWEEN = 8;
/** Of what can sway, the share that goes no farther than what the map calls wholly: the rest is cut off. */
const CUT_OFF = 0.95;
const SWAYS = 128;

/**
 * Weighs what can sway by how far it was seen to go in a windy clip, against the calm clip made as windy with all of it moved alike.
 * @param map how much each pixel is something that sways
 * @param setup of the calm sample's size, from its own conditions to those of the windy clip
 * @param noise mean squared change that the sensor's noise makes, of each pixel, in either clip
 * @returns a map of the same size: 255 goes farthest
 */
export function weighed(
  map: Uint8Array,
  calm: ClipSample,
  windy: ClipSample,
  setup: Setup,
  noise: { calm: Float32Array; windy: Float32Array },
  radius = 0,
): Uint8Array {
  const seen = changeOf(
    smoothed(windy, radius).runs.map((run) => run.map(({ y }) => y)),
    noise.windy,
  );
  let [weights, scale] = [map, 1];
  for (let round = 0; round < ROUNDS; round++) {
    const motion = { branches: scale, leaves: scale, rhythm: 1, growth: 1, how: '' };
    const alike = new Float32Array(seen.length);
    for (let n = 0; n < LAYOUTS; n++) {
      const layout = { ...setup, foliage: weights, motion, seed: `${setup.seed} ${round} ${n}` };
      const one = changeOf(blownRuns(calm, layout, radius), noise.calm);
      for (let i = 0; i < alike.length; i++) alike[i]! += one[i]! / LAYOUTS;
    }
    const reaches = reachesOf(seen, alike, calm);
    const wanted = reaches.map((reach, i) => (reach * weights[i]!) / 255);
    const far = wanted.filter((_, i) => map[i]! >= SWAYS).sort();
    const whole = Math.max(1e-3, far[Math.floor(CUT_OFF * (far.length - 1))] ?? 1);
    weights = wanted.reduce((out, reach, i) => {
      out[i] = 255 * Math.min(1, reach / whole);
      return out;
    }, new Uint8Array(map.length));
    scale *= whole;
  }
  return weights;
}

/** Raised whenever the same clips come to another map. */
const MEANING = 1;

/** As `weighed`, but what an earlier run came to by the same frames is taken from the cache. */
export async function keptWeighed(cache: Cache, ...of: Parameters<typeof weighed>): Promise<Uint8Array> {
  const [map, calm, windy, { foliage: _, ...setup }, noise, radius = 0] = of;
  const frames = [calm, windy].flatMap(({ runs }) => runs.flatMap((run) => run.map(({ y }) => y)));
  const times = calm.runs.map((run) => run.map(({ time }) => time));
  const parts = ['spread', MEANING, WEATHER_MEANING, setup, times, radius];
  const entry = ['sway', keyOf(parts, map, noise.calm, noise.windy, ...frames)];
  const kept = await readSealed(cache, entry);
  if (kept) return Uint8Array.from(kept);
  const made = weighed(...of);
  await writeSealed(cache, entry, made);
  return made;
}

/** The mean share of what can sway that a weighed map leaves of it, 0..1. */
export function shareLeft(map: Uint8Array, weights: Uint8Array): number {
  let [whole, left] = [0, 0];
  map.forEach((much, i) => {
    if (much < SWAYS) return;
    whole += much;
    left += weights[i]!;
  });
  return left / Math.max(1, whole);
}

/** The runs of a sample with weather put onto them. */
function* blownRuns({ runs }: ClipSample, setup: Setup, radius: number): Generator<Uint8Array[]> {
  const weather = createWeather(setup);
  let begins = 0;
  for (const run of runs) {
    const start = run[0]!.time;
    yield run.map(({ y, time }) =>
      smooth(weather.apply(y, begins + time - start), setup.width, setup.height, radius),
    );
    begins += run.at(-1)!.time - start + BETWEEN;
  }
}

/** Mean squared change of each pixel from frame to frame, what changes all of the picture alike and noise taken off. */
function changeOf(runs: Iterable<readonly Uint8Array[]>, noise: Float32Array): Float32Array {
  const sum = new Float32Array(noise.length);
  let pairs = 0;
  for (const run of runs) {
    for (let k = 1; k < run.length; k++) {
      const [before, now] = [run[k - 1]!, run[k]!];
      let drift = 0;
      for (let i = 0; i < now.length; i++) drift += now[i]! - before[i]!;
      drift /= now.length;
      for (let i = 0; i < now.length; i++) sum[i]! += (now[i]! - before[i]! - drift) ** 2;
      pairs++;
    }
  }
  return sum.map((all, i) => all / Math.max(1, pairs) - noise[i]!);
}
