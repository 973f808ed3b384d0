import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { drawMask } from '../camera/mask.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import { adviceFor } from '../diagnose/advice.js';
import type { ClipDiagnosis, Diagnosis } from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import type { OpenPorts } from '../jobs/ports.js';
import { addedTo, cureText, needsText, type Present } from '../words/change-wording.js';
import { luckText } from '../words/diagnosis-wording.js';
import { taughtText } from '../words/teach-wording.js';
import { backdropOf } from './backdrop.js';
import { clipName } from './clip-name.js';
import type { DiagnosedClip, DiagnosisShown } from './diagnosis-data.js';
import { diagnosisShots } from './diagnosis-shots.js';
import { maskInForce } from './mask-in-force.js';
import { drawPictures } from './pictures.js';

/**
 * A diagnosis as a report shows it, with its pictures drawn.
 * @param clips those that were diagnosed, in the same order
 * @param most pictures of a kind for each clip
 */
export async function diagnosisShown(
  { clips: diagnosed, cures, notes, taught }: Diagnosis,
  clips: readonly Clip[],
  camera: Camera,
  settings: Settings & { mask?: Polygon[] },
  most: number,
  ports: OpenPorts,
): Promise<DiagnosisShown> {
  const present = { camera, settings, mask: maskInForce(clips, settings) };
  const shown: DiagnosedClip[] = [];
  for (const [i, clip] of clips.entries()) {
    ports.onPhase(`${clip.dir}: drawing what fired and what was missed`);
    shown.push(await clipShown(diagnosed[i]!, clip, present, most));
  }
  return {
    clips: shown,
    cures: cures.map((cure) => ({
      ...cure,
      words: cureText(cure, present),
      added: cure.kind === 'mask' ? addedTo(present.mask, cure.settings.mask) : [],
    })),
    notes,
    advice: adviceFor(diagnosed.flatMap(({ explained }) => explained)),
    taught: (taught ?? []).map(taughtText),
  };
}

async function clipShown(
  diagnosed: ClipDiagnosis,
  clip: Clip,
  present: Present & { settings: { mask?: Polygon[] } },
  most: number,
): Promise<DiagnosedClip> {
  const { camera, settings } = present;
  const polygons = maskInForce([clip], settings);
  const { fired, missed } = diagnosisShots(diagnosed, clip.labels, clip.times, most, !keepsEvidence(camera));
  const options = { mask: drawMask(polygons, camera), threshold: settings.threshold };
  const drawn = await drawPictures(clip, camera, [...fired.shots, ...missed.shots], options);
  const { explained, judged, places } = diagnosed;
  return {
    dir: clip.dir,
    name: clipName(clip),
    labelled: judged.counts !== null,
    explained,
    visits: judged.visits.length,
    luck: luckText(diagnosed),
    missed: diagnosed.missed.map((visit) => ({ ...visit, needed: needsText(visit.needs, present) })),
    pictures: {
      fired: { ...fired, pictures: drawn.slice(0, fired.shots.length) },
      missed: { ...missed, pictures: drawn.slice(fired.shots.length) },
    },
    places,
    backdrop: await backdropOf(clip),
    mask: polygons,
  };
}
