import type { Camera } from '../../camera/description.js';
import type { LabelledClip } from '../../clip/labelled.js';
import type { Stretch } from '../../score/stretches.js';
import { truthOf } from '../../score/truth.js';
import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';
import { type LimitOfUse, type LitPool, limitOfUse, luxToTry } from '../../tune/limit.js';
import { FEWEST_TO_TELL } from '../../tune/tells.js';
import type { SimulatedSweep } from '../../tune/weather.js';
import type { WeatherToTry } from '../../tune/weather-to-try.js';
import { OVERCAST_DAYLIGHT } from '../../weather/light/light.js';
import { type TimesOfUse, timesOfUse } from '../../weather/light/times-of-use.js';
import { LONGEST, type SimulationOptions, sampleOf, sweepSimulated } from './simulate.js';

/** The limit of use by one clip, and when in the day of its recording it is reached. */
export interface ClipLimit extends LimitOfUse {
  clip: string;
  /** Lux that the clip was recorded in, and whether clip.json says so. */
  fullLight: number;
  /** Null where there is no limit in lux, or clip.json does not say when and where it was recorded. */
  times: TimesOfUse | null;
  /** Visits in all of the clip where that is short enough to be looked through and was not; else null. */
  inWhole: number | null;
  /** Fields of clip.json that would tell more. */
  missing: string[];
}

/** The limit of use by the first of several clips. */
export interface SiteLimit extends ClipLimit {
  /** Calm clips of other sites, tuned together with it, that light was not taken from. */
  leftOut: string[];
}

/** Which footage is looked through for the limit: a sample as for other weather, or all of a clip that is short. */
export type LookedThrough = 'sample' | 'all of a short clip';

const AS_RECORDED: WeatherToTry = { condition: 'calm', to: {}, strength: 0 };
const light = (lux: number): WeatherToTry => ({ condition: 'low light', to: { light: lux }, strength: lux });

/**
 * Puts ever less light onto a labelled clip until no settings catch half of what the best catch in full light: first some
 * lights in one reading, then halfway between. In the same reading each is tried without anything that moves as well, for noise is no use.
 * @param where in the clip: all of a short one takes several times as long, and only where the usual sample holds too few visits
 */
export async function lightLimitOf(
  clip: LabelledClip,
  camera: Camera,
  grid: Grid,
  goal: Goal,
  seed: string,
  options: SimulationOptions,
  where: LookedThrough = 'sample',
): Promise<ClipLimit> {
  const { visits } = truthOf(clip.labels, clip.seconds);
  const sample = sampleFor(visits, clip.seconds, where);
  const within = wholeIn(sample, visits);
  const recorded = recordedLight(clip);
  const sweep = (wanted: readonly WeatherToTry[]) =>
    sweepSimulated(clip, camera, grid, wanted, seed, options, sample);
  let limit = limitOfUse([], [], goal);
  if (within >= FEWEST_TO_TELL) {
    let full: SimulatedSweep | undefined;
    const darker: LitPool[] = [];
    for (;;) {
      const lux = luxToTry(limit, recorded);
      if (lux.length === 0) break;
      const { sweeps } = await sweep([...(full ? [] : [AS_RECORDED]), ...lights(lux)]);
      full ??= sweeps[0];
      for (const at of lux) {
        const of = sweeps.filter(({ condition, strength }) => condition === 'low light' && strength === at);
        const countsOf = (still: boolean) =>
          of.filter((one) => (one.still === true) === still).map(({ counts }) => counts);
        darker.push({ lux: at, counts: countsOf(false), still: countsOf(true) });
      }
      limit = limitOfUse(full ? [full.counts] : [], darker, goal);
    }
  }
  const inWhole = where === 'sample' && clip.seconds <= LONGEST ? visits.length : null;
  return { ...limit, visits: within, inWhole, clip: clip.dir, fullLight: recorded, ...timesIn(clip, limit) };
}

/**
 * What `lightLimitOf` begins with, to be measured in a reading of the usual sample that is made anyway; nothing where it takes another
 * sample or none.
 */
export function lightLimitBegins(clip: LabelledClip): WeatherToTry[] {
  const { visits } = truthOf(clip.labels, clip.seconds);
  if (wholeIn(sampleOf(visits, clip.seconds), visits) < FEWEST_TO_TELL) return [];
  return [AS_RECORDED, ...lights(luxToTry({ levels: [] }, recordedLight(clip)))];
}

/** Each of some lights, and the same onto one frame again and again. */
function lights(lux: readonly number[]): WeatherToTry[] {
  return lux.flatMap((at) => [light(at), { ...light(at), still: true as const }]);
}

function recordedLight({ manifest }: LabelledClip): number {
  return manifest.conditions?.light ?? OVERCAST_DAYLIGHT;
}

function wholeIn(sample: Stretch, visits: readonly Stretch[]): number {
  return visits.filter(({ start, end }) => start >= sample.start && end <= sample.end).length;
}

/** As for other weather, or, where that holds too few visits and it may take long, all of a clip that is short enough. */
function sampleFor(visits: readonly Stretch[], seconds: number, where: LookedThrough) {
  const sample = sampleOf(visits, seconds);
  const isShort = wholeIn(sample, visits) < FEWEST_TO_TELL && seconds <= LONGEST;
  return where === 'all of a short clip' && isShort ? { start: 0, end: seconds } : sample;
}

function timesIn({ manifest }: LabelledClip, { lux }: LimitOfUse): Pick<ClipLimit, 'times' | 'missing'> {
  const { start, place, conditions } = manifest;
  const missing = [
    ...(start === undefined ? ['start'] : []),
    ...(place === undefined ? ['place'] : []),
    ...(conditions?.light === undefined ? ['conditions.light'] : []),
  ];
  const times = lux.value !== null && start && place ? timesOfUse(lux.value, start, place) : null;
  return { times, missing };
}
