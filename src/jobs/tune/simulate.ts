import { createHash } from 'node:crypto';
import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import { photosFor } from '../../camera/timing.js';
import type { LabelledClip } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { EvidenceMeter } from '../../engine/evidence.js';
import { Differencer } from '../../engine/pipeline.js';
import {
  analysedFrames,
  ENGINE_MEANING,
  luminanceFrames,
  type ReadingOptions,
} from '../../measure/evidence.js';
import { setupFor } from '../../measure/weather/setup-for.js';
import { holds, type Stretch } from '../../score/stretches.js';
import { truthOf } from '../../score/truth.js';
import { EvidenceStore } from '../../store/evidence-store.js';
import { lowestLevel, sweepCamera } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import { outcomesAt } from '../../sweep/outcomes.js';
import { sweepClip } from '../../sweep/sweep.js';
import { blockOf } from '../../tune/blocks.js';
import type { Simulated, SimulatedSweep } from '../../tune/weather.js';
import type { Condition } from '../../weather/conditions.js';
import { OVERCAST_DAYLIGHT } from '../../weather/light.js';
import type { Conditions, Setup } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';

/** Raised whenever the same weather is put onto the same frames differently. */
const WEATHER_MEANING = 1;

/** One kind of weather at one strength. */
export interface Wish {
  condition: Condition;
  to: Conditions;
  /** Beaufort number, mm/h or lux. */
  strength: number;
  sway: number;
}

const wind = (strength: number, sway = 1): Wish => ({
  condition: 'wind',
  to: { wind: strength },
  strength,
  sway,
});
const rain = (strength: number): Wish => ({ condition: 'rain', to: { rain: strength }, strength, sway: 1 });
const light = (strength: number): Wish => ({
  condition: 'low light',
  to: { light: strength },
  strength,
  sway: 1,
});

/** What is tried for a kind of weather that nobody recorded; the sway of branches also at half and twice what is assumed. */
const wishes: Record<Condition, Wish[]> = {
  calm: [],
  wind: [wind(4), wind(6), wind(5, 0.5), wind(5, 2)],
  rain: [rain(2), rain(8)],
  'low light': [light(20)],
};

/** Share of the clip that weather is put onto, for every strength costs as much as reading it. */
const SAMPLE_SHARE = 0.4;
/** Seconds: no sample shorter than this, unless the clip is; none longer than that. */
const [SHORTEST, LONGEST] = [90, 600];

/** Wishes for kinds of weather that a clip can be given: it must be recorded in less wind and rain, and more light. */
export function wishesFor(missing: readonly Condition[], clip: Clip): Wish[] {
  const { wind: blows, rain: falls, light: shines } = clip.manifest.conditions ?? {};
  return missing
    .flatMap((condition) => wishes[condition])
    .filter(
      ({ to }) =>
        (to.wind ?? 12) > (blows ?? 0) &&
        (to.rain ?? 999) > (falls ?? 0) &&
        (to.light ?? 0) < (shines ?? Number.POSITIVE_INFINITY),
    );
}

/** The calmest clip of each site: the least wind, then the least rain, then the most light; what is not said counts as calm. */
export function calmestOfEachSite(clips: readonly Clip[]): Clip[] {
  const bySite = new Map<string, Clip>();
  const of = ({ manifest: { conditions } }: Clip) => ({
    wind: conditions?.wind ?? 0,
    rain: conditions?.rain ?? 0,
    light: conditions?.light ?? OVERCAST_DAYLIGHT,
  });
  for (const clip of clips) {
    const site = clip.manifest.site ?? '';
    const other = bySite.get(site);
    const [a, b] = [of(clip), other && of(other)];
    if (!b || (a.wind - b.wind || a.rain - b.rain || b.light - a.light) < 0) bySite.set(site, clip);
  }
  return [...bySite.values()];
}

/**
 * Reads the sample once and puts every kind of weather onto each frame of it. Evidence is kept like that of recordings.
 * @throws what `setupFor` throws for weather that the clip cannot be given
 */
export async function sweepSimulated(
  clip: LabelledClip,
  camera: Camera,
  grid: Grid,
  wanted: readonly Wish[],
  seed: string,
  options: ReadingOptions,
): Promise<Simulated> {
  const { width, height } = camera.analysis;
  const truth = truthOf(clip.labels, clip.seconds);
  const { indices, times } = analysedFrames(clip, camera);
  const whole = { times, truth, outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth) };
  const sample = sampleOf(truth.visits, clip.seconds);
  const part = blockOf(whole, sample);
  const mask = drawMask(clip.labels.mask, camera);
  const floor = floorFor(camera, lowestLevel(grid));

  const assumed = new Set<string>();
  const defaults = new Set<string>();
  const runs = [];
  for (const wish of wanted) {
    const prepared = await setupFor(clip, camera, wish.to, { width, height, seed, sway: wish.sway });
    for (const line of prepared.defaults) defaults.add(line);
    const weather = createWeather(prepared.setup);
    if (wish.sway === 1) for (const line of weather.assumed) assumed.add(line);
    const key = keyOf(clip, camera, prepared.setup, weather.assumed, part.from, part.times, mask, floor);
    const store = new EvidenceStore(options.cache, key, part.times.length, floor);
    runs.push({ wish, weather, store, whole: await store.complete() });
  }

  const missing = runs
    .filter((run) => !run.whole)
    .map((run) => ({
      ...run,
      differencer: new Differencer({ ...camera.analysis, reference: camera.reference, mask }),
      meter: new EvidenceMeter(width, height, floor),
    }));
  if (missing.length > 0) {
    const frames = indices.subarray(part.from, part.from + part.times.length);
    let k = 0;
    for await (const y of luminanceFrames(clip, frames, camera.analysis, options.signal)) {
      const time = part.times[k++]!;
      for (const { weather, differencer, meter, store } of missing) {
        await store.append(meter.measure(differencer.next(weather.apply(y, time), time)));
      }
      options.onProgress?.(k, frames.length);
    }
  }

  const sweeps: SimulatedSweep[] = [];
  for (const { wish, store } of runs) {
    const columns = store.columns.bind(store);
    const [counts] = await sweepClip({ ...part, columns }, grid, sweepCamera(camera));
    const { condition, strength, sway } = wish;
    sweeps.push({ condition, clip: clip.dir, strength, sway, counts });
  }
  const { length: visits } = part.truth.visits;
  return { clip: clip.dir, sweeps, sample, visits, assumed: [...assumed], defaults: [...defaults] };
}

/** The stretch of a clip with the most whole visits in it. */
function sampleOf(visits: readonly Stretch[], seconds: number): Stretch {
  const length = Math.min(seconds, Math.max(SHORTEST, Math.min(LONGEST, SAMPLE_SHARE * seconds)));
  const steps = Math.max(1, Math.floor((4 * (seconds - length)) / length) + 1);
  const starts = Array.from({ length: steps }, (_, i) => Math.min(seconds - length, (i * length) / 4));
  const inside = (start: number) => {
    const stretch = { start, end: start + length };
    return visits.filter((v) => holds(stretch, v.start) && holds(stretch, v.end)).length;
  };
  const best = starts.reduce((a, b) => (inside(b) > inside(a) ? b : a));
  return { start: best, end: best + length };
}

function keyOf(
  clip: Clip,
  camera: Camera,
  setup: Setup,
  assumed: readonly string[],
  from: number,
  times: Float64Array,
  mask: Uint8Array | null,
  floor: number,
): string {
  const { foliage, ...rest } = setup;
  const { whileBusy: _, ...reference } = camera.reference;
  const hash = createHash('sha256');
  hash.update(
    JSON.stringify([ENGINE_MEANING, WEATHER_MEANING, clip.contentKey, camera.analysis, reference, floor]),
  );
  hash.update(JSON.stringify([from, rest, assumed]));
  hash.update(foliage);
  hash.update(times);
  hash.update(mask ?? 'no mask');
  return hash.digest('hex');
}
