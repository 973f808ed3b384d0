import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { type LabelledClip, needLabels } from '../clip/labelled.js';
import type { Clip } from '../clip/open.js';
import { givenNoise } from '../measure/weather/noise-sensor.js';
import { gridFor } from '../sweep/for-camera.js';
import type { Grid } from '../sweep/grid.js';
import { type Doubted, doubtsAbout, drawnAgain, toDrawAgain } from '../tune/doubts.js';
import type { Goal } from '../tune/goal.js';
import type { Now } from '../tune/now.js';
import type { SiteResult as Tuned, TunedClip } from '../tune/site-result.js';
import { type Tells, worstOf } from '../tune/tells.js';
import { tuneSite, withoutSure } from '../tune/tune.js';
import type { Simulated, SimulatedSweep } from '../tune/weather.js';
import { type WeatherToTry, weatherToTry, windierThan } from '../tune/weather-to-try.js';
import { type Assumption, assumptionOf, timesTaken } from '../weather/assumptions.js';
import { type Condition, conditionNames } from '../weather/conditions.js';
import {
  type CameraGiven,
  type ClipGiven,
  noteCoarseClips,
  openClips,
  openSettings,
  openTunable,
  type SettingsGiven,
} from './open.js';
import { type OpenPorts, openPorts, type Ports } from './ports.js';
import { camerasNamed } from './tune/camera-names.js';
import { compareCameras } from './tune/cameras.js';
import type { CameraTold, WhichCamera } from './tune/cameras-told.js';
import { type DialEnd, dialEnds } from './tune/dial-ends.js';
import { type BatteryTold, batteryTold } from './tune/lasts.js';
import { lightLimitBegins, lightLimitOf, type SiteLimit } from './tune/limit.js';
import { heldAgainstNow } from './tune/now.js';
import { readForAll } from './tune/read-for-all.js';
import { type SimulationOptions, sweepSimulated } from './tune/simulate.js';
import { groupsOf, sweepSite } from './tune/sweep-site.js';
import { goalAt, goalOf, type Wanted } from './tune/wanted.js';
import { openNoiseClip } from './weather/noise-clip.js';

export type { Now } from '../tune/now.js';
export type { Choice } from '../tune/site-result.js';
export type { Unseen } from '../tune/tune.js';
export { USUAL_WORTH, type Wanted } from './tune/wanted.js';

export interface TuneInput {
  /** With labels. Clips of different sites (clip.json: site) are tuned apart. */
  clips: readonly ClipGiven[];
  camera?: CameraGiven;
  /** Others to compare with it, read together with it; masks, weather and what is used now are told of the first alone. */
  otherCameras?: readonly NonNullable<CameraGiven>[];
  /** Left out: one more visit is worth 10 photos of nothing. */
  wanted?: Wanted | undefined;
  /** What is used today, to be held against what is recommended; left out: each dial at its middle. */
  now?: SettingsGiven | undefined;
  /** All sites as one. */
  together?: boolean;
  /** Leave out weather that nobody recorded, instead of simulating it. */
  recordedOnly?: boolean;
  /**
   * Also halve and double every figure in the tables of assumptions, take the rain apart, and look through all of a short clip
   * for the light in which it is blind: several times the work.
   */
  doubts?: boolean;
  /** Another clip of the same camera to measure its sensor's noise on; left out: each clip itself, as far as it can tell. */
  noiseFrom?: ClipGiven | undefined;
  /** What simulated weather follows from; '1' where left out. */
  seed?: string;
}

/** A doubt with what is doubted. */
export interface DoubtTold
  extends Doubted,
    Pick<Assumption, 'what' | 'figure' | 'unit' | 'source' | 'measure'> {
  /** What the figure was multiplied by in the end: nothing is more than all of something. */
  taken: number;
}

/** What to use at one site, against what is used today. */
export interface SiteResult extends Omit<Tuned, 'doubts' | 'advised'> {
  now: Now;
  /** The dials that stand at an end and bound what is recommended. */
  ends: DialEnd[];
  /** That the camera takes: rates are of triggers. */
  photosPerTrigger: number;
  /** The advice for simulated weather, were one assumption half or twice what it is. */
  doubts: DoubtTold[];
  /** From which light on the camera is of use; null where no light was simulated. */
  limit: SiteLimit | null;
}

export interface TuneResult {
  /** In the order in which their clips were given. */
  sites: SiteResult[];
  /** The least that any of them tells. */
  tells: Tells;
  /** Where it was said how long the battery is to last. */
  battery?: BatteryTold;
  /** Where there are others: all cameras, the first too, and which of them would serve best. */
  cameras?: CameraTold[];
  whichCamera?: WhichCamera;
}

/**
 * Replays labelled clips under every combination of the camera's dials, puts the weather that is missing onto the calmest
 * clip of each site, and says for each site which settings to use.
 * @throws Problem 'needs-labels', and for anything wrong with what was given; the signal's reason when aborted
 */
export async function tune(input: TuneInput, ports: Ports = {}): Promise<TuneResult> {
  const open = await openPorts(ports);
  const camera = await openTunable(input.camera);
  const now = input.now === undefined ? null : await openSettings(input.now, camera, open);
  const goal = goalOf(input.wanted, camera, open);
  const clips = await openClips(input.clips, open);
  for (const clip of clips) needLabels(clip);
  noteCoarseClips(clips, camera, open);
  if (now?.mask) {
    open.onWarning(
      'what you use now holds a mask, which is not tuned with; put it into labels.json (mask) to have it on both sides',
    );
  }
  const noiseFrom = input.noiseFrom === undefined ? undefined : await openNoiseClip(input.noiseFrom, open);
  // Before the long reading, for it may not be able to tell.
  if (noiseFrom) await givenNoise(noiseFrom, camera.analysis, open.signal);
  const named = await camerasNamed(input.camera, input.otherCameras ?? []);
  const compares = named.length > 1;
  if (compares) await readForAll(clips, named, input.wanted, open);
  const sites: SiteResult[] = [];
  for (const [site, group] of groupsOf(clips, input.together ?? false)) {
    sites.push(await tuneOne(site, group, camera, goal, now, input, { ...open, noiseFrom }));
  }
  const { wanted } = input;
  return {
    sites,
    tells: worstOf(sites.map(({ tells }) => tells)),
    ...(wanted && 'lasts' in wanted && { battery: batteryTold(camera, wanted.lasts, sites) }),
    ...(compares && (await compareCameras(clips, named, sites, wanted, open))),
  };
}

/** The document of `tune --json`: with one site, its fields stand at the top as well. */
export function tuneDocument({ sites, ...of }: TuneResult): TuneDocument {
  const [only] = sites;
  return { ...(sites.length === 1 && only), sites, ...of };
}

export type TuneDocument = TuneResult & Partial<SiteResult>;

async function tuneOne(
  site: string | null,
  clips: readonly Clip[],
  camera: Camera,
  asked: Goal,
  now: ResolvedSettings | null,
  { wanted: ways, recordedOnly = false, doubts = false, seed = '1' }: TuneInput,
  ports: OpenPorts & Pick<SimulationOptions, 'noiseFrom'>,
): Promise<SiteResult> {
  const grid = gridFor(camera);
  const {
    swept,
    judged,
    goal,
    masked,
    sources: litBy,
  } = await sweepSite(clips, camera, grid, ports, (judged) => goalAt(asked, ways, judged, grid));
  const sources = recordedOnly ? [] : litBy;
  const [lit, ...others] = sources;
  const simulated: Simulated[] = [];
  const tried: Tried[] = [];
  for (const clip of sources) {
    const wanted = weatherToTry(missingIn(swept), clip.manifest.conditions, {
      doubts,
      scene: clip.manifest.scene,
    });
    if (wanted.length === 0) continue;
    const kinds = [...new Set(wanted.map(({ condition }) => condition))].join(', ');
    ports.onPhase(`${clip.dir}: putting ${kinds} onto it`);
    const swayFrom = windierThan(clip, clips);
    tried.push({ clip, wanted, swayFrom });
    const along = clip === lit ? lightLimitBegins(clip) : [];
    simulated.push(await sweepSimulated(clip, camera, grid, wanted, seed, { ...ports, swayFrom, along }));
  }
  ports.signal?.throwIfAborted();
  const { advised, ...tuned } = tuneSite(site, swept, grid, goal, simulated, masked);
  const second = doubts ? await drawAgain(tried, tuned.doubts, camera, grid, seed, ports) : [];
  const doubted = drawnAgain(
    tuned.doubts,
    advised.flatMap((group) => doubtsAbout(group, second, grid, withoutSure(goal))),
  );
  const real = clips.filter((_, c) => judged.includes(swept[c]!));
  const held = await heldAgainstNow(real, camera, grid, now, tuned.recommended.settings, ports);
  if (lit) ports.onPhase(`${lit.dir}: looking for the light below which nothing is caught`);
  const limit = lit && {
    ...(await lightLimitOf(lit, camera, grid, goal, seed, ports, doubts ? 'all of a short clip' : 'sample')),
    leftOut: others.map(({ dir }) => dir),
  };
  const byCondition = withStillWind(tuned.byCondition, simulated);
  return {
    ...tuned,
    byCondition,
    doubts: doubted.map(toldInFull),
    now: held,
    ends: dialEnds(tuned, camera, goal),
    photosPerTrigger: camera.burst.photos,
    limit: limit ?? null,
  };
}

/** Weather that was put onto a clip, and where its sway came from. */
interface Tried extends Pick<SimulationOptions, 'swayFrom'> {
  clip: LabelledClip;
  wanted: readonly WeatherToTry[];
}

/** What changes the advice in one drawing of chance, and what it is held against, in a second: all but chance is as it was. */
async function drawAgain(
  tried: readonly Tried[],
  doubts: readonly Doubted[],
  camera: Camera,
  grid: Grid,
  seed: string,
  ports: OpenPorts & SimulationOptions,
): Promise<SimulatedSweep[]> {
  const sweeps: SimulatedSweep[] = [];
  for (const { clip, wanted, swayFrom } of tried) {
    const again = toDrawAgain(doubts, wanted);
    if (again.length === 0) continue;
    ports.onPhase(`${clip.dir}: drawing chance anew for what changes the advice`);
    const drawn = await sweepSimulated(clip, camera, grid, again, `${seed}/again`, { ...ports, swayFrom });
    sweeps.push(...drawn.sweeps);
  }
  return sweeps;
}

/** Wind that was to be simulated and would have moved nothing stands among the others, with nothing tried. */
function withStillWind(
  byCondition: Tuned['byCondition'],
  simulated: readonly Simulated[],
): Tuned['byCondition'] {
  const clips = simulated.filter(({ motionless }) => motionless).map(({ clip }) => clip);
  if (clips.length === 0 || byCondition.some(({ condition }) => condition === 'wind')) return byCondition;
  const wind = {
    condition: 'wind' as const,
    clips,
    source: 'simulated' as const,
    choice: null,
    strengths: [],
  };
  const place = (name: Condition) => conditionNames.indexOf(name);
  return [...byCondition, wind].sort((a, b) => place(a.condition) - place(b.condition));
}

function toldInFull(doubt: Doubted): DoubtTold {
  const { what, figure, unit, source, measure } = assumptionOf(doubt.assumption);
  return { ...doubt, taken: timesTaken(doubt), what, figure, unit, source, measure };
}

function missingIn(swept: readonly TunedClip[]): Condition[] {
  return conditionNames.filter((name) => !swept.some((clip) => clip.conditions.includes(name)));
}
