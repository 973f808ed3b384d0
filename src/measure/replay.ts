import { type Camera, keepsEvidence } from '../camera/description.js';
import { positions, valueAt } from '../camera/dials.js';
import type { ResolvedSettings, Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import { DirectReplay } from '../engine/direct.js';
import { busySeconds, isActive, levelOf, photoTimes, triggersOf } from '../engine/triggers.js';
import { analysedFrames, drawMask, evidenceOf, luminanceFrames, type ReadingOptions } from './evidence.js';

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
  const area = (await evidence.columns([level], camera.area)).get(level) as Uint32Array;
  const changed = (await evidence.columns([level], 'changed')).get(level) as Uint32Array;
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

/** One camera under one group of settings, to be given the frames of a clip one by one. */
export function directReplay(camera: Camera, settings: Settings, mask: Uint8Array | null): DirectReplay {
  const { width, height, smooth } = camera.analysis;
  const { whileBusy, ...reference } = camera.reference;
  const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
  return new DirectReplay({
    width,
    height,
    smooth,
    reference,
    whileBusy,
    area: camera.area,
    mask,
    threshold,
    minimumArea,
    mostChanged,
    persistence,
    busy: busyFor(camera, cooldown),
  });
}

/** Seconds after a trigger in which the camera can't fire. */
export function busyFor(camera: Camera, cooldown: number): number {
  return busySeconds(cooldown, camera.shutterLag, camera.burst.photos, camera.burst.interval);
}

/** When the photos of a trigger are taken, seconds. */
export function photosFor(camera: Camera, time: number): number[] {
  return photoTimes(time, camera.shutterLag, camera.burst.photos, camera.burst.interval);
}

/**
 * The lowest level worth keeping evidence for: the lowest that the camera's dials reach, so that every setting of the
 * camera shares one reading; all levels where `needed` lies below that. Levels under the floor, mostly sensor noise,
 * are where most pixels are, and cost the most.
 */
export function floorFor(camera: Camera, needed: number): number {
  const dial = Object.values(camera.controls).find((d) => d.sets === 'threshold');
  if (!dial) return 1;
  const levels = positions(dial).map((position) => levelOf(valueAt(dial, position)));
  const lowest = levels.reduce((least, level) => Math.min(least, level));
  return needed < lowest ? 1 : lowest;
}
