import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import { type LabelledClip, needLabels } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { readTogether } from '../../measure/evidence.js';
import { powerOf } from '../../outing/power.js';
import { truthOf } from '../../score/truth.js';
import { gridFor, triesAll } from '../../sweep/for-camera.js';
import { type Apart, apart, cutBlocks } from '../../tune/blocks.js';
import {
  type AgainstFirst,
  againstFirst,
  asFarAsTried,
  bestOf,
  type CameraVerdict,
  cameraVerdict,
  chosenAnew,
  type Photographed,
  type Taken,
  takenOf,
} from '../../tune/cameras.js';
import type { Goal } from '../../tune/goal.js';
import type { Choice, SiteResult } from '../../tune/site-result.js';
import type { Tells } from '../../tune/tells.js';
import { recordedOf } from '../../tune/tune.js';
import { noteCoarseClips } from '../open.js';
import type { OpenPorts } from '../ports.js';
import { type CameraDoes, cameraAtSite, type Ground } from './camera-at-site.js';
import { type CameraNamed, calledApart } from './camera-names.js';
import { type BatteryTold, batteryAt } from './lasts.js';
import { BLOCKS, lookingFor, samplingOf } from './sweep-clip.js';
import { goalAt, goalOf, type Wanted } from './wanted.js';

/** On footage left out, with settings chosen without it. */
export interface LeftOut extends Taken {
  how: 'leave one clip out' | 'blocks of time';
  /** Null: this is the first. */
  against: AgainstFirst | null;
}

/** What a camera does at one site, with its dials alone: without a new mask. */
export interface CameraAtSite {
  site: string | null;
  tells: Tells;
  choice: Choice;
  /** How long its battery lasts with that, photos at visits too, by power in its file. */
  battery: Pick<BatteryTold['sites'][number], 'hours' | 'photosPerHour'>;
  /** On these clips, visit by visit; null: this is the first. */
  against: AgainstFirst | null;
  /** Null: there is one clip only, which cannot be cut. */
  leftOut: LeftOut | null;
  /** By what was left out; null: this is the first. */
  verdict: CameraVerdict | null;
}

/** One of the cameras, the first of them the one that all others are held against. */
export interface CameraTold {
  /** Its name; where several have the same, its file. */
  camera: string;
  file: string | null;
  width: number;
  height: number;
  rate: number;
  /** Pixels that it compares a second, as it is described; and how many times as many as the first that is. */
  pixelsPerSecond: number;
  work: number;
  /** Groups of settings that were tried, and whether these are all that its dials give. */
  searched: number;
  triesAll: boolean;
  sites: CameraAtSite[];
  /** At all sites together. */
  leftOut: Omit<LeftOut, 'how'> | null;
  verdict: CameraVerdict | null;
}

/** Which of the cameras would serve best. */
export interface WhichCamera {
  /** The one that promises most on all of the footage, by the goal. */
  best: string;
  /** What comes of choosing a camera so, on footage that it was not chosen on; null: nothing could be left out. */
  chosenAnew: (Taken & { against: AgainstFirst; times: { camera: string; times: number }[] }) | null;
  /** Whether that serves better than the first; 'keep': the first promises most itself. */
  verdict: CameraVerdict | 'keep';
  /** The camera that compares the fewest pixels, fewer than the first, and serves as well; null: none is shown to. */
  enough: string | null;
  /** Whether all have the same figures in power, so that what a smaller comparison saves is not known. */
  samePower: boolean;
}

/** What tuning found at a site for the first of several cameras. */
type SiteTuned = Pick<SiteResult, 'site' | 'clips' | 'tells' | 'mask' | 'recommended'>;

export interface CamerasCompared {
  cameras: CameraTold[];
  whichCamera: WhichCamera;
}

/** The comparison in what tuning found; undefined: there was one camera. */
export function comparedIn({ cameras, whichCamera }: Partial<CamerasCompared>): CamerasCompared | undefined {
  return cameras && whichCamera && { cameras, whichCamera };
}

/**
 * Makes, in one reading of each clip, the evidence that any of several cameras lacks of it.
 * @param wanted tried with each camera before the long reading
 * @throws Problem where a camera cannot be tuned for that; whatever reading the clips throws
 */
export async function readForAll(
  clips: readonly Clip[],
  cameras: readonly CameraNamed[],
  wanted: Wanted | undefined,
  ports: OpenPorts,
): Promise<void> {
  for (const [c, name] of calledApart(cameras).entries()) mustBeTunable(cameras[c]!, name, wanted);
  const reading = cameras.filter(({ camera }) => keepsEvidence(camera));
  const grids = reading.map(({ camera }) => gridFor(camera));
  for (const clip of clips) {
    needLabels(clip);
    ports.signal?.throwIfAborted();
    ports.onPhase(`${clip.dir}: reading frames for ${reading.length} cameras`);
    const looking = reading.map(({ camera }, i) => ({
      ...lookingFor(clip, camera, grids[i]!),
      // What is said of the clip's own weather comes from the frames of the first.
      ...(i === 0 && samplingOf(clip, camera)),
    }));
    await readTogether(clip, looking, ports);
  }
}

/** @throws Problem where a camera lacks a dial, or its battery does not last as long as it must; by the name of the camera */
function mustBeTunable({ camera }: CameraNamed, name: string, wanted: Wanted | undefined): void {
  gridFor(camera);
  try {
    goalOf(wanted, camera, { onWarning: () => undefined });
  } catch (error) {
    throw error instanceof Problem ? new Problem(error.code, `${name}: ${error.message}`) : error;
  }
}

/**
 * Holds cameras against the first of them on the same labelled clips, each tuned by its dials alone; on footage left out,
 * for what was chosen on some footage flatters itself on it.
 * @param sites what tuning found for the first
 */
export async function compareCameras(
  clips: readonly Clip[],
  cameras: readonly CameraNamed[],
  sites: readonly SiteTuned[],
  wanted: Wanted | undefined,
  ports: OpenPorts,
): Promise<CamerasCompared> {
  const names = calledApart(cameras);
  const asked = cameras.map(({ camera }, c) => {
    if (c > 0) noteCoarseClips(clips, camera, ports);
    // What a battery leaves was told of the first when it was tuned.
    return goalOf(wanted, camera, { onWarning: c > 0 ? ports.onWarning : () => undefined });
  });
  const grounds = sites.map((site) => groundOf(site, clips, cameras));
  const does: CameraDoes[][] = [];
  for (const [s, { site: _, ...told }] of sites.entries()) {
    const chosen = { choice: told.mask?.withoutIt ?? told.recommended, tells: told.tells };
    const here: CameraDoes[] = [];
    for (const [c, { camera }] of cameras.entries()) {
      const goalFor: Parameters<typeof cameraAtSite>[2] = (swept, grid) =>
        goalAt(asked[c]!, wanted, swept, grid);
      here.push(await cameraAtSite(grounds[s]!, camera, goalFor, c === 0 ? chosen : null, ports));
    }
    does.push(here);
  }
  const first = cameras[0]!.camera;
  const told = cameras.map(({ camera, file }, c): CameraTold => {
    const of = does.map((here) => here[c]!);
    const all = of.flatMap(({ leftOut }) => leftOut);
    const ofFirst = does.flatMap((here) => here[0]!.leftOut);
    const together = c === 0 ? null : held(ofFirst, all, goalOfAll(of), [first, camera]);
    return {
      camera: names[c]!,
      file,
      width: camera.analysis.width,
      height: camera.analysis.height,
      rate: camera.analysis.rate,
      pixelsPerSecond: pixelsPerSecond(camera),
      work: pixelsPerSecond(camera) / pixelsPerSecond(first),
      searched: gridFor(camera).size,
      triesAll: triesAll(camera),
      sites: sites.map((site, s) => atSite(site, grounds[s]!, does[s]!, c, [first, camera])),
      leftOut: all.length === 0 ? null : { ...takenOf(all), against: together?.against ?? null },
      verdict: together?.verdict ?? null,
    };
  });
  return { cameras: told, whichCamera: whichOf(told, does, cameras) };
}

/** The clips of a site that count, cut into blocks such that no camera's reference or photos reach from one into the next. */
function groundOf(site: SiteTuned, clips: readonly Clip[], cameras: readonly CameraNamed[]): Ground {
  const of = clips.filter(({ dir }) => site.clips.includes(dir));
  for (const clip of of) needLabels(clip);
  const judged = recordedOf(
    of.map((clip) => ({ clip: clip as LabelledClip, simulated: clip.manifest.simulated !== undefined })),
  );
  const gaps = cameras.map(({ camera }) => apart(camera));
  const widest = (of: keyof Apart) => Math.max(...gaps.map((gap) => gap[of]));
  const gap = { memory: widest('memory'), photoSpan: widest('photoSpan') };
  return {
    site: site.site,
    clips: judged.map(({ clip }) => ({
      clip,
      blocks: cutBlocks(truthOf(clip.labels, clip.seconds), BLOCKS, gap),
    })),
  };
}

/** What is wanted of a camera at all sites together: of allowances, which may differ from site to site, so many as come to theirs. */
function goalOfAll(sites: readonly CameraDoes[]): Goal {
  const [{ goal }] = sites as [CameraDoes];
  if (goal.kind === 'worth') return goal;
  const hours = sites.map(({ leftOut }) => leftOut.reduce((sum, { watchedHours }) => sum + watchedHours, 0));
  const watched = hours.reduce((sum, at) => sum + at, 0);
  const allowed = sites.reduce(
    (sum, { goal: at }, s) => sum + (at.kind === 'allowance' ? at.falsePerHour * hours[s]! : 0),
    0,
  );
  return watched === 0 ? goal : { kind: goal.kind, falsePerHour: allowed / watched };
}

/** @param cameras the first, and the other */
function held(
  first: readonly Photographed[],
  other: readonly Photographed[],
  goal: Goal,
  [ofFirst, ofOther]: readonly [Camera, Camera],
): { against: AgainstFirst; verdict: CameraVerdict } {
  const against = againstFirst(first, other, goal);
  const { visits, nothingPerHour } = takenOf(other);
  const taken = { nothingPerHour, photosPerTrigger: ofOther.burst.photos };
  const verdict = cameraVerdict(against, visits, goal, taken);
  return { against, verdict: asFarAsTried(verdict, { first: triesAll(ofFirst), other: triesAll(ofOther) }) };
}

function atSite(
  { site }: SiteTuned,
  { clips }: Ground,
  does: readonly CameraDoes[],
  c: number,
  cameras: readonly [Camera, Camera],
): CameraAtSite {
  const own = does[c]!;
  const first = does[0]!;
  const compared = c === 0 ? null : held(first.leftOut, own.leftOut, own.goal, cameras);
  const { hours, photosPerHour } = batteryAt(cameras[1], own.choice);
  return {
    site,
    tells: own.tells,
    choice: own.choice,
    battery: { hours, photosPerHour },
    against: c === 0 ? null : againstFirst(first.onClips, own.onClips, own.goal),
    leftOut:
      own.leftOut.length === 0
        ? null
        : {
            how: clips.length > 1 ? 'leave one clip out' : 'blocks of time',
            ...takenOf(own.leftOut),
            against: compared?.against ?? null,
          },
    verdict: compared?.verdict ?? null,
  };
}

function whichOf(
  told: readonly CameraTold[],
  does: readonly CameraDoes[][],
  cameras: readonly CameraNamed[],
): WhichCamera {
  const all = cameras.map((_, c) => does.reduce((total, here) => total + here[c]!.given, 0));
  const best = bestOf(all);
  const units = does.flatMap((here) =>
    here[0]!.leftOut.map((ofFirst, u) => ({
      ofFirst,
      photographed: here.map(({ leftOut }) => leftOut[u]!),
      // One camera is chosen for all sites: what is left out is missing from one of them.
      given: here.map(({ given, givenWithout }, c) => all[c]! - given + givenWithout[u]!),
    })),
  );
  const { photographed, times } = chosenAnew(units);
  const anew =
    units.length === 0
      ? null
      : held(
          units.map(({ ofFirst }) => ofFirst),
          photographed,
          goalOfAll(does.map((here) => here[best]!)),
          [cameras[0]!.camera, cameras[best]!.camera],
        );
  const isOneOfTwo = cameras.length === 2;
  const smallest = told
    .filter(({ work, verdict }) => work < 1 && (verdict === 'as good' || verdict === 'better'))
    .sort((a, b) => a.work - b.work);
  const powers = new Set(cameras.map(({ camera }) => JSON.stringify(powerOf(camera).power)));
  return {
    best: told[best]!.camera,
    chosenAnew: anew && {
      ...takenOf(photographed),
      against: anew.against,
      times: told.map(({ camera }, c) => ({ camera, times: times[c]! })),
    },
    verdict:
      best === 0
        ? 'keep'
        : // Of two there is no choice that could have been lucky: it is told by the one comparison.
          ((isOneOfTwo ? told[best]!.verdict : anew?.verdict) ?? 'too little to tell'),
    enough: smallest[0]?.camera ?? null,
    samePower: powers.size === 1,
  };
}

function pixelsPerSecond({ analysis: { width, height, rate } }: Camera): number {
  return width * height * rate;
}
