import type { Camera } from '../../camera/description.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import type { Settings } from '../../camera/settings.js';
import { photosFor } from '../../camera/timing.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import { type Judged, judgeAll } from '../../score/replayed.js';
import type { Stretch } from '../../score/stretches.js';
import { type Truth, truthOf, watchedWithin } from '../../score/truth.js';
import { gridFor } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import type { Photographed } from '../../tune/cameras.js';
import { type Goal, visitsGiven } from '../../tune/goal.js';
import { poolOf } from '../../tune/pool.js';
import { recommend } from '../../tune/recommend.js';
import type { Choice, Swept } from '../../tune/site-result.js';
import type { Tells } from '../../tune/tells.js';
import { tuneSite, withoutSure } from '../../tune/tune.js';
import type { OpenPorts } from '../ports.js';
import { judgedUnder } from './now.js';
import { blocksOf, lookingFor, partsOf, sweepDirectly, sweepEvidence } from './sweep-clip.js';

/** Clips of one site, cut into blocks that are the same for every camera. */
export interface Ground {
  site: string | null;
  clips: readonly { clip: LabelledClip; blocks: readonly Stretch[] }[];
}

/** What one camera does at one site. */
export interface CameraDoes {
  tells: Tells;
  /** What to use, without a new mask. */
  choice: Choice;
  goal: Goal;
  /** Clip by clip, with the settings chosen on all of them. */
  onClips: Photographed[];
  /** Whole clips, or blocks of the only one, each with the settings chosen on all the others. */
  leftOut: Photographed[];
  /** Visits, by the goal, that it promises on all of the footage, and on all but each piece that was left out. */
  given: number;
  givenWithout: number[];
}

/** What is left out in turn: whole clips, or where there is one only its blocks; nothing where it cannot be cut. */
export function unitsOf(clips: Ground['clips']): { clip: number; block: Stretch | null }[] {
  if (clips.length > 1) return clips.map((_, clip) => ({ clip, block: null }));
  const blocks = clips[0]?.blocks ?? [];
  return blocks.length > 1 ? blocks.map((block) => ({ clip: 0, block })) : [];
}

/**
 * Replays the clips of a site under every setting of a camera's dials, chooses as tuning does but for masks, and looks at what
 * was chosen, here and on footage left out.
 * @param chosen what tuning chose already, without a new mask; null: it is chosen here, as tuning it alone would
 */
export async function cameraAtSite(
  { site, clips }: Ground,
  camera: Camera,
  goalFor: (swept: readonly Swept[], grid: Grid) => Goal,
  chosen: { choice: Choice; tells: Tells } | null,
  ports: OpenPorts,
): Promise<CameraDoes> {
  const grid = gridFor(camera);
  // What there is to be said of a recording was said when it was first read.
  const { onWarning: _, ...reading } = ports;
  const each: SweptOne[] = [];
  for (const { clip, blocks } of clips) {
    ports.signal?.throwIfAborted();
    ports.onPhase(`${clip.dir}: comparing it with the ${camera.name}`);
    each.push(await sweepOne(clip, blocks, camera, grid, reading));
  }
  const goal = goalFor(
    each.map(({ own }) => own),
    grid,
  );
  const told = chosen ?? chosenAt(site, clips, each, grid, goal);
  const units = unitsOf(clips);
  const countsOf = units.map(({ clip, block }) => {
    const { whole, blocks } = each[clip]!.common;
    return block === null ? whole : blocks[clips[clip]!.blocks.indexOf(block)]!;
  });
  // How surely an allowance is kept depends on how much was seen, which differs with what is left out.
  const unsure = withoutSure(goal);
  const all = promiseOf(
    each.map(({ own }) => own.whole),
    grid,
    unsure,
  );
  const promises = countsOf.map((counts) =>
    promiseOf(
      countsOf.filter((other) => other !== counts),
      grid,
      unsure,
    ),
  );
  const photographed = async (clip: number, settings: Settings, block: Stretch | null) =>
    photographedIn(clips[clip]!.clip, await each[clip]!.judgedUnder(settings), block, camera);
  const leftOut: Photographed[] = [];
  for (const [u, { clip, block }] of units.entries()) {
    const { setting } = promises[u]!;
    leftOut.push(await photographed(clip, grid.settingsAt(setting), block));
  }
  const { version: _version, ...settings } = told.choice.settings;
  const onClips: Photographed[] = [];
  for (const clip of clips.keys()) onClips.push(await photographed(clip, settings, null));
  return {
    ...told,
    goal,
    onClips,
    leftOut,
    given: all.given,
    givenWithout: promises.map(({ given }) => given),
  };
}

/** One clip under every setting. */
interface SweptOne {
  /** Cut into the camera's own blocks, as tuning it alone cuts it. */
  own: Swept;
  /** Cut into those that are common to all cameras. */
  common: Swept;
  judgedUnder(settings: Settings): Promise<Judged>;
}

async function sweepOne(
  clip: LabelledClip,
  blocks: readonly Stretch[],
  camera: Camera,
  grid: Grid,
  options: Omit<OpenPorts, 'onWarning'>,
): Promise<SweptOne> {
  if (!keepsEvidence(camera)) return sweepOneDirectly(clip, blocks, camera, grid, options);
  const ownBlocks = blocksOf(clip, camera);
  const { mask, floor } = lookingFor(clip, camera, grid);
  const evidence = await evidenceOf(clip, camera, mask, floor, options);
  const parts = partsOf(clip, camera, [...ownBlocks, ...blocks]);
  const swept = await sweepEvidence(parts, evidence, camera, grid);
  const kept = new Map<string, Promise<Judged>>();
  return {
    own: { whole: swept.whole, blocks: swept.blocks.slice(0, ownBlocks.length) },
    common: { whole: swept.whole, blocks: swept.blocks.slice(ownBlocks.length) },
    judgedUnder: (settings) => {
      const key = JSON.stringify(settings);
      const judged = kept.get(key) ?? judgedUnder(clip, camera, { ...settings, warnings: [] }, options);
      kept.set(key, judged);
      return judged;
    },
  };
}

/** Tuned alone such a camera has no blocks; its triggers under all settings are known from one reading. */
async function sweepOneDirectly(
  clip: LabelledClip,
  blocks: readonly Stretch[],
  camera: Camera,
  grid: Grid,
  options: ReadingOptions,
): Promise<SweptOne> {
  const parts = partsOf(clip, camera, blocks);
  const { swept, fired } = await sweepDirectly(clip, parts, camera, grid, options);
  const places = new Map(fired.map((_, setting) => [JSON.stringify(grid.settingsAt(setting)), setting]));
  const truth = truthOf(clip.labels, clip.seconds);
  return {
    own: { whole: swept.whole, blocks: [] },
    common: swept,
    judgedUnder: async (settings) => {
      const setting = places.get(JSON.stringify(settings)) as number;
      return judgeAll(fired[setting]!, (time) => photosFor(camera, time), truth);
    },
  };
}

function chosenAt(
  site: string | null,
  clips: Ground['clips'],
  each: readonly SweptOne[],
  grid: Grid,
  goal: Goal,
): { choice: Choice; tells: Tells } {
  const swept = clips.map(({ clip }, c) => ({
    ...each[c]!.own,
    clip: clip.dir,
    // Weather by weather is told of the first camera only.
    conditions: [],
    simulated: clip.manifest.simulated !== undefined,
  }));
  const { recommended, tells } = tuneSite(site, swept, grid, goal);
  return { choice: recommended, tells };
}

/** The setting chosen on some footage, and what its neighbourhood there lets expect, by the goal, in visits. */
function promiseOf(
  counts: readonly Swept['whole'][],
  grid: Grid,
  goal: Goal,
): { setting: number; given: number } {
  const pool = poolOf(counts);
  const { setting, expected, kept } = recommend(pool, grid, goal);
  const given = visitsGiven(expected.caught, expected.falseTriggers, goal);
  // Where no setting keeps the allowance, any camera that keeps it goes before.
  return { setting, given: kept ? given : given - pool.visits };
}

function photographedIn(
  clip: LabelledClip,
  judged: Judged,
  block: Stretch | null,
  { burst }: Camera,
): Photographed {
  const truth = truthOf(clip.labels, clip.seconds);
  const { start, end } = block ?? { start: Number.NEGATIVE_INFINITY, end: Number.POSITIVE_INFINITY };
  return {
    visits: judged.visits
      .filter((visit) => visit.start >= start && visit.end <= end)
      .map(({ start, end, name = null, caught }) => ({
        visit: { clip: clip.dir, start, end, name },
        caught,
      })),
    nothing: judged.triggers
      .filter(({ time, verdict }) => verdict === 'false' && time >= start && time < end)
      .flatMap(({ time }) => Array<number>(burst.photos).fill(time)),
    watchedHours: watchedOf(truth, block) / 3600,
  };
}

function watchedOf(truth: Truth, block: Stretch | null): number {
  return block === null ? truth.watchedSeconds : watchedWithin(truth, block);
}
