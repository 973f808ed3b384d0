import type { Camera } from '../../../camera/description.js';
import type { Settings } from '../../../camera/settings.js';
import { busyFor, photosFor } from '../../../camera/timing.js';
import { isActive, levelOf, triggersOf } from '../../../engine/triggers.js';
import type { Labels } from '../../../score/labels.js';
import { type Judged, judgeAll } from '../../../score/replayed.js';
import { noCounts, type Score, scoreOf } from '../../../score/score.js';
import { type Truth, truthOf } from '../../../score/truth.js';
import type { EvidenceColumns } from '../../protocol.js';

/** What one group of settings does on the clip. */
export interface Replayed extends Judged {
  score: Score;
}

/**
 * Replays one group of settings on evidence: the same steps as `perchmark replay`.
 * @param labels null: the clip has none, and every verdict is null
 * @throws RangeError for a threshold that no position of the dial gives, for evidence is held for those alone
 */
export function replay(
  evidence: EvidenceColumns,
  camera: Camera,
  settings: Settings,
  labels: Labels | null,
  seconds: number,
): Replayed {
  const level = levelOf(settings.threshold);
  const area = evidence[camera.area].get(level);
  const changed = evidence.changed.get(level);
  if (!area || !changed) throw new RangeError(`no evidence is held for threshold ${settings.threshold}`);
  const { minimumArea, mostChanged, persistence, cooldown } = settings;
  const fired = triggersOf(
    evidence.times,
    (k) => isActive(area[k]!, changed[k]!, minimumArea, mostChanged),
    persistence,
    busyFor(camera, cooldown),
  );
  const judged = judgeAll(
    fired.map((k) => evidence.times[k]!),
    (time) => photosFor(camera, time),
    labels && truthFor(labels, seconds),
  );
  return { ...judged, score: scoreOf(judged.counts ?? noCounts) };
}

let lastTruth: { of: string; truth: Truth } | null = null;

/** Labels come anew with every question, so that what they say is told by their content; it is worked out once. */
function truthFor(labels: Labels, seconds: number): Truth {
  const of = JSON.stringify([labels, seconds]);
  if (lastTruth?.of !== of) lastTruth = { of, truth: truthOf(labels, seconds) };
  return lastTruth.truth;
}
