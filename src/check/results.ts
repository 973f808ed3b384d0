import type { Camera } from '../camera/description.js';
import type { Controls } from '../camera/dials.js';
import type { ResolvedSettings, Settings } from '../camera/settings.js';
import { photosFor } from '../camera/timing.js';
import type { LabelledClip } from '../clip/labelled.js';
import type { Polygon } from '../engine/mask.js';
import { ENGINE_MEANING } from '../measure/evidence-key.js';
import { type Judged, judgeAll } from '../score/replayed.js';
import type { Counts } from '../score/score.js';
import { truthOf } from '../score/truth.js';
import { jsonKey } from '../store/key.js';

/** What a camera's results follow from, settings apart; its dials act through the settings' engine values. */
export interface CameraPart extends Pick<Camera, 'analysis' | 'reference' | 'area' | 'shutterLag' | 'burst'> {
  /** Of everything but the name. */
  key: string;
  name: string;
}

/** Engine values, and the mask that stands in for those of the labels where there is one. */
export interface SettingsPart extends Settings {
  key: string;
  mask?: Polygon[];
}

/**
 * What makes two clips the same for checking, as keys of their content: the pictures, when they were taken, and what the
 * labels say of visits and of time that does not count. Names of visits, boxes, foliage, causes and masks are left
 * out.
 */
export interface ClipKeys {
  pictures: string;
  times: string;
  labels: string;
}

export interface VisitResult {
  /** Seconds from the clip's start. */
  start: number;
  end: number;
  name?: string | undefined;
  caught: boolean;
}

export interface TriggerResult {
  /** Seconds from the clip's start. */
  time: number;
  verdict: 'true' | 'false' | 'ignored';
}

/** What one clip gave. */
export interface ClipResult extends ClipKeys {
  /** Its name in the suite. */
  clip: string;
  /** The key of what was not watched; null: all was. */
  mask: string | null;
  /** Animal visits in order of start. */
  visits: readonly VisitResult[];
  /** In order of time. */
  triggers: readonly TriggerResult[];
}

/** A program of the user's that fired in the place of the camera's description. */
export interface FiredBy {
  /** Its command line. */
  command: string;
  /** Whether its frames kept the clip's own pixel size. */
  fullSize: boolean;
}

/** What a suite gave under one camera and one group of settings. */
export interface Results {
  /** The version of what the engine computes. */
  engine: number;
  camera: CameraPart;
  settings: SettingsPart;
  /** Left out: the camera's description, replayed. */
  firedBy?: FiredBy;
  clips: readonly ClipResult[];
}

/** The same just replayed, with what a score, pictures and words need. */
export interface Replayed extends Results {
  /** The camera's dials: changes are told by them. */
  controls: Controls;
  clips: readonly (ClipResult & { judged: Judged; counts: Counts })[];
}

/**
 * Replays labelled clips under one group of settings.
 * @param triggersOf when it fires on a clip, seconds
 * @param firedBy left out: the camera's description
 */
export async function replaySuite(
  clips: readonly { name: string; clip: LabelledClip }[],
  camera: Camera,
  settings: ResolvedSettings,
  triggersOf: (clip: LabelledClip) => Promise<number[]>,
  firedBy?: FiredBy,
): Promise<Replayed> {
  const results = [];
  for (const { name, clip } of clips) {
    const times = await triggersOf(clip);
    const truth = truthOf(clip.labels, clip.seconds);
    const judged = judgeAll(times, (time) => photosFor(camera, time), truth);
    results.push({
      clip: name,
      ...clipKeys(clip),
      mask: maskKey(settings.mask ?? clip.labels.mask),
      visits: judged.visits,
      triggers: judged.triggers.flatMap(({ time, verdict }) => (verdict === null ? [] : [{ time, verdict }])),
      judged,
      counts: judged.counts as Counts,
    });
  }
  return {
    engine: ENGINE_MEANING,
    camera: cameraPart(camera),
    settings: settingsPart(settings),
    ...(firedBy && { firedBy }),
    controls: camera.controls,
    clips: results,
  };
}

function clipKeys(clip: LabelledClip): ClipKeys {
  const { visits, ignored = [], reviewed } = clip.labels;
  const inOrder = (stretches: readonly { start: number; end: number; type?: string }[]) =>
    stretches
      .map(({ start, end, type }) => [start, end, type ?? ''] as const)
      .sort((a, b) => a[0] - b[0] || a[1] - b[1] || (a[2] < b[2] ? -1 : 1));
  return {
    pictures: clip.contentKey,
    times: jsonKey(Array.from(clip.times), clip.seconds),
    labels: jsonKey(inOrder(visits), inOrder(ignored), reviewed ? inOrder(reviewed) : null),
  };
}

function maskKey(mask: readonly Polygon[] | undefined): string | null {
  return mask && mask.length > 0 ? jsonKey(mask) : null;
}

function cameraPart(camera: Camera): CameraPart {
  const { name, analysis, reference, area, shutterLag, burst } = camera;
  const decides = { analysis, reference, area, shutterLag, burst };
  return { key: jsonKey(decides), name, ...decides };
}

/** What is kept of settings, with the key of what decides. */
export function settingsPart(settings: Settings & { mask?: Polygon[] }): SettingsPart {
  const { threshold, minimumArea, mostChanged, persistence, cooldown, mask } = settings;
  const decides = { threshold, minimumArea, mostChanged, persistence, cooldown, ...(mask && { mask }) };
  return { key: jsonKey(decides), ...decides };
}
