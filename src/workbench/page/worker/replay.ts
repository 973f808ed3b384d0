import type { Camera } from '../../../camera/description.js';
import type { Settings } from '../../../camera/settings.js';
import { busyFor, photosFor } from '../../../camera/timing.js';
import { isActive, levelOf, triggersOf } from '../../../engine/triggers.js';
import type { Labels } from '../../../score/labels.js';
import { type Judged, judgeAll } from '../../../score/replayed.js';
import { noCounts, type Score, scoreOf } from '../../../score/score.js';
import { type Truth, truthOf } from '../../../score/truth.js';
import { NO_ROW, type Outcomes, outcomesAt } from '../../../sweep/outcomes.js';
import type { EvidenceColumns } from '../../protocol.js';
import type { WithinColumns } from './within.js';

/** What one group of settings does on the clip. */
export interface Replayed extends Judged {
  score: Score;
}

/**
 * Replays one group of settings on evidence: the same steps as `perchmark replay`.
 * @param labels null: the clip has none, and every verdict is null
 * @param within how much changed within the boxes of these labels; null: it is not told who was caught by luck
 * @throws RangeError for a threshold that no position of the dial gives, for evidence is held for those alone
 */
export function replay(
  evidence: EvidenceColumns,
  camera: Camera,
  settings: Settings,
  labels: Labels | null,
  seconds: number,
  within: WithinColumns | null = null,
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
  const known = labels && knownOf(labels, seconds);
  const areas = within?.get(level);
  const own =
    known && areas
      ? (trigger: number, visit: number) => {
          const outcomes = known.outcomesAt(evidence.times, camera);
          return areas[rowAt(outcomes, fired[trigger]!, visit)]! >= minimumArea;
        }
      : undefined;
  const judged = judgeAll(
    fired.map((k) => evidence.times[k]!),
    (time) => photosFor(camera, time),
    known?.truth ?? null,
    own,
  );
  return { ...judged, score: scoreOf(judged.counts ?? noCounts) };
}

/** The row of a visit among those that a photo of a trigger at a frame shows. */
function rowAt({ visitStart, visitList, rows }: Outcomes, frame: number, visit: number): number {
  for (let i = visitStart[frame]!; i < visitStart[frame + 1]!; i++)
    if (visitList[i] === visit) return rows[i]!;
  return NO_ROW;
}

/** What follows from labels, each worked out once. */
class Known {
  readonly truth: Truth;
  private outcomes: { of: string; outcomes: Outcomes } | null = null;

  constructor(labels: Labels, seconds: number) {
    this.truth = truthOf(labels, seconds);
  }

  outcomesAt(times: Float64Array, camera: Camera): Outcomes {
    const of = JSON.stringify([camera.shutterLag, camera.burst, times.length]);
    if (this.outcomes?.of !== of) {
      this.outcomes = { of, outcomes: outcomesAt(times, (time) => photosFor(camera, time), this.truth) };
    }
    return this.outcomes.outcomes;
  }
}

let last: { of: string; known: Known } | null = null;

/** Labels come anew with every question, so that what they say is told by their content. */
function knownOf(labels: Labels, seconds: number): Known {
  const of = JSON.stringify([labels, seconds]);
  if (last?.of !== of) last = { of, known: new Known(labels, seconds) };
  return last.known;
}
