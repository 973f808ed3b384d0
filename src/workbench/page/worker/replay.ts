import type { Camera } from '../../../camera/description.js';
import type { Settings } from '../../../camera/settings.js';
import { busyFor, photosFor } from '../../../camera/timing.js';
import { isActive, levelOf, triggersOf } from '../../../engine/triggers.js';
import type { Labels } from '../../../score/labels.js';
import { type Judged, judgeAll } from '../../../score/replayed.js';
import { noCounts, type Score, scoreOf } from '../../../score/score.js';
import { truthOf } from '../../../score/truth.js';
import type { EvidenceColumns } from '../../protocol.js';

/** What one group of settings does on the clip. */
export interface Replayed extends Judged {
  score: Score;
}

/** Replays one group of settings on evidence: the same steps as `perchmark replay`. */
export function replay(
  evidence: EvidenceColumns,
  camera: Camera,
  settings: Settings,
  labels: Labels | null,
  seconds: number,
): Replayed {
  const level = levelOf(settings.threshold);
  const area = evidence[camera.area].get(level)!;
  const changed = evidence.changed.get(level)!;
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
    labels && truthOf(labels, seconds),
  );
  return { ...judged, score: scoreOf(judged.counts ?? noCounts) };
}
