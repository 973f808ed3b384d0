import type { Camera } from '../camera/description.js';
import { floorFor } from '../camera/floor.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { drawMask } from '../camera/mask.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { photosFor } from '../camera/timing.js';
import type { Clip } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';
import { levelOf } from '../engine/triggers.js';
import { analysedFrames } from '../measure/analysed.js';
import { type Evidence, evidenceOf, type ReadingOptions } from '../measure/evidence.js';
import { replayClip } from '../measure/replay.js';
import { type Judged, judgeAll } from '../score/replayed.js';
import { type Truth, truthOf } from '../score/truth.js';

/** One clip under the settings to be diagnosed: replayed, judged, its evidence at hand. */
export interface ReplayedClip {
  clip: Clip;
  camera: Camera;
  settings: ResolvedSettings;
  /** What is not watched: the settings' mask, else that of the labels. */
  polygons: readonly Polygon[];
  /** The same at the analysis size. */
  mask: Uint8Array | null;
  /** The smallest whole difference that counts as changed. */
  level: number;
  /** The clip's frames that are analysed, and their times. */
  indices: Uint32Array;
  times: Float64Array;
  /** Analysed frames at which it fired, in the order of `judged.triggers`. */
  fired: readonly number[];
  judged: Judged;
  truth: Truth | null;
  /** Null where the reference depends on the triggers, so that no evidence can be kept. */
  evidence: Evidence | null;
}

/** Replays a clip and judges what it would have photographed. */
export async function openReplayed(
  clip: Clip,
  camera: Camera,
  settings: ResolvedSettings,
  options: ReadingOptions,
): Promise<ReplayedClip> {
  const polygons = settings.mask ?? clip.labels?.mask ?? [];
  const mask = drawMask(polygons, camera);
  const level = levelOf(settings.threshold);
  const triggers = await replayClip(clip, camera, settings, options);
  const { indices, times } = analysedFrames(clip, camera);
  const place = new Map(Array.from(times, (time, k) => [time, k]));
  const truth = clip.labels && truthOf(clip.labels, clip.seconds);
  return {
    clip,
    camera,
    settings,
    polygons,
    mask,
    level,
    indices,
    times,
    fired: triggers.map((time) => place.get(time) as number),
    judged: judgeAll(triggers, (time) => photosFor(camera, time), truth),
    truth,
    evidence: keepsEvidence(camera)
      ? await evidenceOf(clip, camera, mask, floorFor(camera, level), options)
      : null,
  };
}
