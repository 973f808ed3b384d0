import { adviceFor } from '../../src/diagnose/advice.js';
import type { ClipDiagnosis } from '../../src/diagnose/diagnosis.js';
import type { DiagnosedClip, DiagnosisShown } from '../../src/report/diagnosis-data.js';
import { addedTo, cureText, needsText, type Present } from '../../src/words/change-wording.js';
import { camera, cures, explained, logPile, now, quiet } from './diagnosis-example.js';
import { nonePictured } from './example.js';

export const present: Present = { camera, settings: now, mask: [] };

export function shownOf(clip: ClipDiagnosis): DiagnosedClip {
  return {
    dir: clip.clip,
    name: clip.clip,
    labelled: clip.judged.counts !== null,
    explained: clip.explained,
    visits: clip.judged.visits.length,
    luck: null,
    missed: clip.missed.map((visit) => ({ ...visit, needed: needsText(visit.needs, present) })),
    pictures: { fired: nonePictured, missed: nonePictured },
    places: clip.places,
    backdrop: { address: null, aspect: 0.75 },
    mask: [],
  };
}

/** The example as a report shows it, without pictures. */
export const shown: DiagnosisShown = {
  clips: [shownOf(logPile), shownOf(quiet)],
  cures: cures.map((cure) => ({
    ...cure,
    words: cureText(cure, present),
    added: cure.kind === 'mask' ? addedTo([], cure.settings.mask) : [],
  })),
  notes: [],
  advice: adviceFor(explained),
  taught: [],
};
