import type { Camera } from '../camera/description.js';
import { directReplay } from '../camera/direct-replay.js';
import { floorFor } from '../camera/floor.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { drawMask } from '../camera/mask.js';
import type { ResolvedSettings, Settings } from '../camera/settings.js';
import { busyFor, photosFor } from '../camera/timing.js';
import { type Clip, luminanceFrames } from '../clip/open.js';
import { isActive, levelOf, triggersOf } from '../engine/triggers.js';
import { type Judged, judgeAll } from '../score/replayed.js';
import { truthOf } from '../score/truth.js';
import { firstAt } from '../sweep/march.js';
import { analysedFrames } from './analysed.js';
import { rowOf } from './boxes.js';
import { evidenceOf, type ReadingOptions } from './evidence.js';

/** Trigger times of one clip under one group of settings, seconds. Settings' own mask goes before the labels' one. */
export async function replayClip(
  clip: Clip,
  camera: Camera,
  settings: ResolvedSettings,
  options: ReadingOptions,
): Promise<number[]> {
  const mask = drawMask(settings.mask ?? clip.labels?.mask, camera);
  return keepsEvidence(camera)
    ? replayEvidence(clip, camera, settings, mask, options)
    : ((await replayDirectly(clip, camera, [settings], mask, options))[0] as number[]);
}

/**
 * Holds a clip's triggers, as `replayClip` gives them, against its labels; where these give boxes, visits caught by luck are
 * told apart. A camera whose reference depends on its triggers keeps no evidence, and says nothing of luck.
 */
export async function judgeClip(
  clip: Clip,
  camera: Camera,
  settings: ResolvedSettings,
  triggers: readonly number[],
  options: ReadingOptions,
): Promise<Judged> {
  const photos = (time: number) => photosFor(camera, time);
  if (!clip.labels) return judgeAll(triggers, photos, null);
  const truth = truthOf(clip.labels, clip.seconds);
  if (!keepsEvidence(camera)) return judgeAll(triggers, photos, truth);
  const level = levelOf(settings.threshold);
  const mask = drawMask(settings.mask ?? clip.labels.mask, camera);
  const { times, within } = await evidenceOf(clip, camera, mask, floorFor(camera, level), options);
  if (!within) return judgeAll(triggers, photos, truth);
  const area = (await within.columns([level])).get(level)!;
  const firesWithin = (trigger: number, visit: number) =>
    area[rowOf(within.rows, firstAt(times, triggers[trigger]!, 0), visit)]! >= settings.minimumArea;
  return judgeAll(triggers, photos, truth, firesWithin);
}

/** Replay that reads kept evidence; exact for cameras whose reference never depends on the triggers. */
export async function replayEvidence(
  clip: Clip,
  camera: Camera,
  settings: Settings,
  mask: Uint8Array | null,
  options: ReadingOptions,
): Promise<number[]> {
  const level = levelOf(settings.threshold);
  const evidence = await evidenceOf(clip, camera, mask, floorFor(camera, level), options);
  const both = await evidence.bothColumns([level]);
  const area = both[camera.area].get(level)!;
  const changed = both.changed.get(level)!;
  const { minimumArea, mostChanged, persistence, cooldown } = settings;
  return triggersOf(
    evidence.times,
    (k) => isActive(area[k]!, changed[k]!, minimumArea, mostChanged),
    persistence,
    busyFor(camera, cooldown),
  ).map((k) => evidence.times[k]!);
}

/**
 * Replay frame by frame that never uses evidence, for several groups of settings in one reading of the clip. The only
 * way for cameras whose reference depends on the triggers.
 */
export async function replayDirectly(
  clip: Clip,
  camera: Camera,
  all: readonly Settings[],
  mask: Uint8Array | null,
  options: ReadingOptions,
): Promise<number[][]> {
  const { indices, times } = analysedFrames(clip, camera);
  const replays = all.map((settings) => directReplay(camera, settings, mask));
  const fired: number[][] = all.map(() => []);
  let k = 0;
  for await (const y of luminanceFrames(clip, indices, camera.analysis, options.signal)) {
    const time = times[k++]!;
    replays.forEach((replay, i) => {
      if (replay.step(y, time)) fired[i]?.push(time);
    });
    options.onProgress?.(k, indices.length);
  }
  return fired;
}
