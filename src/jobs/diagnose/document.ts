import { adviceFor } from '../../diagnose/advice.js';
import type { ClipDiagnosis, Diagnosis } from '../../diagnose/diagnosis.js';

/**
 * A diagnosis for programs. False triggers, missed visits and cures as the contract has them; beside them: `unjudged`,
 * the triggers of clips without labels, of which nothing tells which were false; `byLuck`, visits that were caught while something else fired; `notes`, what was not tried as a cure or did not hold; `places`, the counts behind the map;
 * `advice`, common practice and nothing measured.
 */
export function diagnosisDocument({ clips, cures, notes, taught }: Diagnosis) {
  const labelled = clips.filter(({ judged }) => judged.counts);
  const bare = clips.filter(({ judged }) => !judged.counts);
  return {
    falseTriggers: labelled.flatMap(triggersOf),
    unjudged: bare.flatMap(triggersOf),
    byLuck: labelled.flatMap(({ clip, byLuck }) => byLuck.map((visit) => ({ clip, visit }))),
    missed: labelled.flatMap(({ clip, missed }) => missed.map((visit) => ({ clip, ...visit }))),
    cures: cures.map(({ kind, settings, falseRemoved, visitsLost, ...rest }) => ({
      kind,
      settings,
      falseRemoved,
      visitsLost,
      provedOn: 'other half' as const,
      ...rest,
    })),
    notes,
    places: clips.map(({ clip, simulated, places }) => ({
      clip,
      ...(simulated && { simulated: true as const }),
      ...places,
    })),
    advice: adviceFor(clips.flatMap(({ explained }) => explained)).map((advice) => ({
      ...advice,
      restsOn: 'common practice' as const,
    })),
    ...(taught && { taught: [...taught] }),
  };
}

function triggersOf({ clip, explained }: ClipDiagnosis) {
  return explained.map(({ time, cause, probability, evidence, box }) => ({
    clip,
    time,
    cause,
    probability,
    evidence,
    box,
  }));
}
