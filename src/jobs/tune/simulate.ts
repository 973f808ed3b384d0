import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import { photosFor } from '../../camera/timing.js';
import type { LabelledClip } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { analysedFrames } from '../../measure/analysed.js';
import { boxRowsOf } from '../../measure/boxes.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { simulatedEvidenceOf } from '../../measure/weather/evidence.js';
import { type Prepared, type SetupOptions, setupFor } from '../../measure/weather/setup-for.js';
import { measureSway } from '../../measure/weather/two-clips.js';
import { holds, type Stretch } from '../../score/stretches.js';
import { truthOf } from '../../score/truth.js';
import type { Cache } from '../../store/cache.js';
import { lowestLevel, sweepCamera } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import { outcomesAt, rowsFor } from '../../sweep/outcomes.js';
import { sweepClip } from '../../sweep/sweep.js';
import { blockOf } from '../../tune/blocks.js';
import { isAsAssumed, type Simulated, type SimulatedSweep } from '../../tune/weather.js';
import type { WeatherToTry } from '../../tune/weather-to-try.js';
import type { AssumptionName } from '../../weather/assumptions.js';
import { offOf, swayKnownOf } from '../../weather/off.js';
import type { Setup } from '../../weather/setup.js';

/** Share of the clip that weather is put onto, for every strength costs as much as reading it. */
const SAMPLE_SHARE = 0.4;
/** Seconds: no sample shorter than this, unless the clip is; none longer than that. */
const SHORTEST = 90;
export const LONGEST = 600;

export interface SimulationOptions extends ReadingOptions {
  /** Another clip of the same camera, to measure its sensor's noise on. */
  noiseFrom?: Clip | undefined;
  /** A windier clip of the same site, to measure sway on. */
  swayFrom?: Clip | undefined;
  /** Measured in the same reading and kept, for whoever asks for it next; left out: nothing. */
  along?: readonly WeatherToTry[] | undefined;
}

/**
 * Puts each kind of weather onto a sample of a clip, in one reading, and replays it under every setting of the grid.
 * Evidence is kept like that of recordings.
 * @param seed what the weather follows from
 * @param stretch the sample; left out: the one with most visits
 * @param pieces of the clip that are counted by themselves as well, as far as they are in the sample
 * @throws what `setupFor` throws for weather that the clip cannot be given
 */
export async function sweepSimulated(
  clip: LabelledClip,
  camera: Camera,
  grid: Grid,
  wanted: readonly WeatherToTry[],
  seed: string,
  options: SimulationOptions,
  stretch?: Stretch,
  pieces: readonly Stretch[] = [],
): Promise<Simulated> {
  const truth = truthOf(clip.labels, clip.seconds);
  const { times } = analysedFrames(clip, camera);
  const whole = { times, truth, outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth) };
  const sample = stretch ?? sampleOf(truth.visits, clip.seconds);
  const block = blockOf(whole, sample);
  // Areas within boxes are measured of the sample alone, so their rows count from its start.
  const rows = rowsFor(block.outcomes.visitList, block.truth);
  const part = { ...block, outcomes: { ...block.outcomes, rows } };

  const { tries, setups, defaults, motionless } = await setupsFor(clip, camera, wanted, seed, options);
  const mask = drawMask(clip.labels.mask, camera);
  const floor = floorFor(camera, lowestLevel(grid));
  const boxes = boxRowsOf(part.outcomes, part.truth, camera.area);
  const within = (time: number) => Math.min(sample.end, Math.max(sample.start, time));
  const cut = pieces.map(({ start, end }) => blockOf(part, { start: within(start), end: within(end) }));
  const along = await setupsFor(clip, camera, options.along ?? [], seed, options);
  const measured = [...setups, ...along.setups];
  const evidence = await simulatedEvidenceOf(clip, camera, mask, floor, part, boxes, measured, options);

  const assumed = new Set<string>();
  const sweeps: SimulatedSweep[] = [];
  for (const [i, { to, ...tried }] of tries.entries()) {
    const simulated = evidence[i]!;
    const [counts, ...rest] = await sweepClip({ ...part, ...simulated }, grid, sweepCamera(camera), cut);
    const off = offOf(to, swayKnownOf(setups[i]!.motion));
    const sweep = { ...tried, clip: clip.dir, counts, off, pieces: rest };
    // What is doubted is not what is assumed.
    if (isAsAssumed(sweep)) for (const line of simulated.assumed) assumed.add(line);
    sweeps.push(sweep);
  }
  const { length: visits } = part.truth.visits;
  return { clip: clip.dir, sweeps, sample, visits, assumed: [...assumed], defaults, motionless };
}

/** What is tried, with the setup of each; doubts about what the camera or the clip itself says are left out. */
async function setupsFor(
  clip: Clip,
  camera: Camera,
  wanted: readonly WeatherToTry[],
  seed: string,
  { cache, signal, noiseFrom, swayFrom }: SimulationOptions,
): Promise<{ tries: WeatherToTry[]; setups: Setup[]; defaults: string[]; motionless: boolean }> {
  const { width, height } = camera.analysis;
  const tries: WeatherToTry[] = [];
  let motionless = false;
  const setups: Setup[] = [];
  const defaults = new Set<string>();
  const known = new Map<string, Prepared>();
  const sway =
    swayFrom && wanted.some(({ to }) => to.wind !== undefined)
      ? await swayOf(clip, swayFrom, camera, seed, cache)
      : null;
  if (sway?.refused !== undefined) defaults.add(sway.refused);
  for (const one of wanted) {
    const { to, doubt, without, still } = one;
    const key = JSON.stringify(to);
    const given = to.wind === undefined ? {} : sway?.measured;
    const prepared =
      known.get(key) ??
      (await setupFor(clip, camera, to, { width, height, seed, cache, noiseFrom, signal, ...given }));
    known.set(key, prepared);
    for (const line of prepared.defaults) defaults.add(line);
    if (isMotionless(one, prepared.setup)) {
      motionless = true;
      continue;
    }
    if (doubt && isKnown(doubt.assumption, camera, prepared.setup, clip.manifest.scene)) continue;
    tries.push(one);
    setups.push({
      ...prepared.setup,
      ...(doubt && { doubt }),
      ...(without && { without }),
      ...(still && { still }),
    });
  }
  return { tries, setups, defaults: [...defaults], motionless };
}

/** Sway as two clips tell it, or in a line why they do not: then it is measured on the one, or assumed. */
async function swayOf(
  calm: Clip,
  windy: Clip,
  camera: Camera,
  seed: string,
  cache: Cache,
): Promise<{ measured?: Pick<SetupOptions, 'motion' | 'foliage'>; refused?: string }> {
  try {
    return { measured: await measureSway(calm, windy, camera, seed, cache) };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    // What to do about it is told of `weather`, which has an option for it.
    return { refused: `sway was not measured on two clips, because ${error.message.split('; ')[0]}` };
  }
}

/** Wind that would move nothing: figures for it would be those of the recording, and say nothing of wind. */
function isMotionless({ condition }: WeatherToTry, { foliage, geometry }: Setup): boolean {
  return condition === 'wind' && geometry.mount !== 'tree' && foliage.every((value) => value < 128);
}

/** Whether a figure is not assumed here: said in camera.json or clip.json, or measured on the clip. */
export function isKnown(
  name: AssumptionName,
  { exposure, sensor, lens }: Pick<Camera, 'exposure' | 'sensor' | 'lens'>,
  { noise, motion }: Pick<Setup, 'noise' | 'motion'>,
  scene: Clip['manifest']['scene'] = {},
): boolean {
  const tells = (...factors: ('branches' | 'leaves')[]) =>
    factors.every((factor) => motion?.told?.includes(factor) === true);
  switch (name) {
    case 'sway':
      return tells('branches');
    case 'flutter':
      return tells('leaves');
    // What was measured in one wind at the site has its shelter in it.
    case 'shelter':
      return tells('branches', 'leaves');
    case 'field of view':
      return lens !== undefined;
    case 'subject distance':
      return scene.subject !== undefined;
    case 'foliage distance':
      return scene.foliage !== undefined;
    case 'camera height':
      return scene.height !== undefined;
    case 'longest exposure':
    case 'most gain':
      return exposure !== undefined || noise?.limits === true;
    case 'full well':
      return sensor !== undefined || noise?.measured === true;
    case 'read noise':
      return sensor !== undefined || noise?.readNoise === true;
    default:
      return false;
  }
}

/** The stretch of a clip with the most whole visits in it, the earliest of several. */
export function sampleOf(visits: readonly Stretch[], seconds: number): Stretch {
  const length = Math.min(seconds, Math.max(SHORTEST, Math.min(LONGEST, SAMPLE_SHARE * seconds)));
  const last = Math.max(0, Math.floor((4 * (seconds - length)) / length));
  const startOf = (i: number) => Math.min(seconds - length, (i * length) / 4);
  // Whole visits from each start, a quarter of the length apart; most starts of a long clip are near none.
  const inside = new Map([[0, 0]]);
  for (const { start, end } of visits) {
    const from = Math.max(0, Math.floor((4 * (end - length)) / length) - 1);
    const to = Math.min(last, Math.ceil((4 * start) / length) + 1);
    for (let i = from; i <= to; i++) {
      const stretch = { start: startOf(i), end: startOf(i) + length };
      if (holds(stretch, start) && holds(stretch, end)) inside.set(i, (inside.get(i) ?? 0) + 1);
    }
  }
  let [best, most] = [0, 0];
  for (const [i, count] of inside) {
    if (count > most || (count === most && i < best)) [best, most] = [i, count];
  }
  return { start: startOf(best), end: startOf(best) + length };
}
