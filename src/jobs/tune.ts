import { type Camera, keepsEvidence } from '../camera/description.js';
import { needLabels } from '../clip/labelled.js';
import type { Clip } from '../clip/open.js';
import { ownConditions } from '../measure/weather/own-conditions.js';
import { gridFor } from '../sweep/for-camera.js';
import type { Grid } from '../sweep/grid.js';
import { tune as choose, type TunedClip, type TuneResult } from '../tune/tune.js';
import type { Simulated } from '../tune/weather.js';
import { calmestOfEachSite, weatherToTry } from '../tune/weather-to-try.js';
import { conditionNames, conditionsOf } from '../weather/conditions.js';
import { type CameraGiven, type ClipGiven, noteSlowClips, openCamera, openClips } from './open.js';
import { type OpenPorts, openPorts, type Ports } from './ports.js';
import { sweepSimulated } from './tune/simulate.js';
import { sweepOf } from './tune/sweep-clip.js';

export type { Choice, TuneResult, Unseen } from '../tune/tune.js';

/** What is put up with where nothing is said: false triggers per watched hour. */
export const USUAL_ALLOWANCE = 6;

/** False triggers to put up with: per watched hour, or in photos of nothing a day over the hours that the camera is out. */
export type AllowanceGiven = { falsePerHour: number } | { photosPerDay: number; hoursOut: number };

export interface TuneInput {
  /** With labels. */
  clips: readonly ClipGiven[];
  camera?: CameraGiven;
  /** Left out: 6 false triggers an hour. */
  allowance?: AllowanceGiven | undefined;
  /** Leave out weather that nobody recorded, instead of simulating it. */
  recordedOnly?: boolean;
  /** What simulated weather follows from; '1' where left out. */
  seed?: string;
}

/**
 * Replays labelled clips under every combination of the camera's dials, puts the weather that is missing onto the calmest
 * clip of each site, and says which settings to use.
 * @throws Problem 'needs-labels', and for anything wrong with what was given; the signal's reason when aborted
 */
export async function tune(input: TuneInput, ports: Ports = {}): Promise<TuneResult> {
  const open = await openPorts(ports);
  const camera = await openCamera(input.camera);
  const grid = gridFor(camera);
  const clips = await openClips(input.clips, open);
  for (const clip of clips) needLabels(clip);
  noteSlowClips(clips, camera, open);
  const swept: TunedClip[] = [];
  for (const clip of clips) swept.push(await sweepOne(clip, camera, grid, open));
  const { seed = '1', recordedOnly = false } = input;
  const simulated =
    recordedOnly || !keepsEvidence(camera)
      ? []
      : await simulateMissing(clips, swept, camera, grid, seed, open);
  const goal = { kind: 'allowance', falsePerHour: falsePerHour(input.allowance, camera) } as const;
  return choose(swept, grid, goal, simulated);
}

function falsePerHour(given: AllowanceGiven | undefined, camera: Camera): number {
  if (!given) return USUAL_ALLOWANCE;
  if ('falsePerHour' in given) return given.falsePerHour;
  return given.photosPerDay / given.hoursOut / camera.burst.photos;
}

async function sweepOne(clip: Clip, camera: Camera, grid: Grid, ports: OpenPorts): Promise<TunedClip> {
  const how = keepsEvidence(camera) ? 'reading frames' : `replaying ${grid.size} settings frame by frame`;
  ports.onPhase(`${clip.dir}: ${how}`);
  const onWarning = (line: string) => ports.onWarning(`${clip.dir}: ${line}`);
  const parts = await sweepOf(clip, camera, grid, { ...ports, onWarning });
  const { conditions, notes } = await ownConditions(clip, camera.analysis);
  for (const note of notes) ports.onWarning(note);
  return {
    clip: clip.dir,
    conditions: conditionsOf(conditions),
    simulated: clip.manifest.simulated !== undefined,
    ...parts,
  };
}

async function simulateMissing(
  clips: readonly Clip[],
  swept: readonly TunedClip[],
  camera: Camera,
  grid: Grid,
  seed: string,
  ports: OpenPorts,
): Promise<Simulated[]> {
  const missing = conditionNames.filter((name) => !swept.some((clip) => clip.conditions.includes(name)));
  const recorded = clips.filter((clip) => !clip.manifest.simulated);
  const simulated: Simulated[] = [];
  for (const clip of calmestOfEachSite(recorded)) {
    needLabels(clip);
    const wanted = weatherToTry(missing, clip.manifest.conditions);
    if (wanted.length === 0) continue;
    const kinds = `${wanted.length} ${wanted.length === 1 ? 'kind' : 'kinds'}`;
    ports.onPhase(`${clip.dir}: putting ${kinds} of weather onto it`);
    simulated.push(await sweepSimulated(clip, camera, grid, wanted, seed, ports));
  }
  return simulated;
}
