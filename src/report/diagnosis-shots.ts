import type { ClipDiagnosis } from '../diagnose/diagnosis.js';
import { byCause } from '../diagnose/triggers/by-cause.js';
import type { Labels } from '../score/labels.js';
import { causeText, reasonText, sentence } from '../words/diagnosis-wording.js';
import { clock } from '../words/wording.js';
import { type Candidate, chooseShots, missedVisit, type ShotGroup } from './shots.js';

export interface DiagnosisShots {
  /** The frames it fired at, not the photos, which come later: there the region that fired lies on what moved. */
  fired: ShotGroup;
  missed: ShotGroup;
}

/**
 * Chooses what to show of a clip's diagnosis, people left out, at most `most` pictures of a kind: of the triggers the
 * surest of each cause before any other.
 * @param framed whether to frame what fired, for cameras whose regions cannot be hatched
 */
export function diagnosisShots(
  { explained, missed, judged }: ClipDiagnosis,
  labels: Labels | null,
  times: ArrayLike<number>,
  most: number,
  framed: boolean,
): DiagnosisShots {
  const surest = new Set(byCause(explained).map(({ strongest }) => strongest));
  const fired = explained.map(
    (trigger): Candidate => ({
      time: trigger.time,
      trigger: trigger.time,
      caption: `${clock(trigger.time, 1)}: ${causeText(trigger)}. ${sentence(trigger.evidence)}`,
      box: framed ? trigger.box : null,
      animal: false,
      first: surest.has(trigger),
    }),
  );
  const unseen = missed.flatMap((told) => {
    const of = judged.visits[told.visit];
    if (!of) return [];
    const candidate = missedVisit(of, labels);
    return [{ ...candidate, caption: `${candidate.caption}: ${reasonText(told)}` }];
  });
  return {
    fired: chooseShots(fired, labels, times, most),
    missed: chooseShots(unseen, labels, times, most),
  };
}
