import type { EngineValue } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';
import type { CamerasCompared } from '../jobs/tune/cameras-told.js';
import type { SiteResult } from '../jobs/tune.js';
import type { JudgedTrigger } from '../score/replayed.js';
import type { Score } from '../score/score.js';
import type { Stretch } from '../score/stretches.js';
import type { SensibleChoice } from '../words/choices.js';
import type { DialShown } from '../words/dials-shown.js';
import type { CheckShown } from './check-section.js';
import type { DiagnosisShown } from './diagnosis-data.js';
import type { PictureGroup } from './picture-data.js';

export type { Picture, PictureGroup } from './picture-data.js';

/** Clips that are shown under one group of settings: all of a report's, or those of one site. */
export interface ReportGroup {
  /** The site's name; null where there is one group only. */
  site: string | null;
  /** The group of settings the clips are shown under, in engine values ... */
  settings: Settings;
  /** ... and as the camera's dials stand. */
  dials: readonly DialShown[];
  /** Values that no dial gives and that differ from what they would be if left out. */
  offDials: readonly EngineValue[];
  about: About;
  clips: readonly ClipShown[];
}

/** All that a report shows, as plain data: the same data gives the same bytes. */
export interface Report {
  title: string;
  /** The camera's name. */
  camera: string;
  groups: readonly ReportGroup[];
  /** What is to be said once of all sites, where there are several. */
  ofAll?: readonly string[];
  /** Where wind was simulated, on each clip that it was put onto: what was taken for foliage. */
  foliage?: readonly FoliageShown[];
  /** Pictures of what fired falsely and of what was missed are then here, not with the clips. */
  diagnosis?: DiagnosisShown;
  check?: CheckShown;
  /** Where several were given. */
  cameras?: CamerasCompared;
}

/** What sways in a clip, hatched on one of its pictures. */
export interface FoliageShown {
  clip: string;
  /** A data URL. */
  address: string;
}

/** What the settings come from: given by hand and scored (null where no clip has labels), or chosen by tuning. */
export type About =
  | { kind: 'replay'; score: Score | null }
  | {
      kind: 'tune';
      result: SiteResult;
      /** What stands over the dials: whether to set them so. */
      heading: string;
      words: readonly string[];
      /** What there is to choose from where too little can be told, the group that the dials show first; none elsewhere. */
      choices: readonly SensibleChoice[];
    };

/** One clip under the settings of the report. Times in seconds from its start. */
export interface ClipShown {
  name: string;
  seconds: number;
  area: AreaShown;
  /** Pixels at the analysis size. */
  minimumArea: number;
  triggers: readonly JudgedTrigger[];
  labels: LabelsShown;
  pictures: Record<PictureKind, PictureGroup>;
}

/** The area that the camera measures in each frame at the chosen threshold, or why it cannot be shown. */
export type AreaShown =
  | {
      kind: 'measured';
      /** The largest connected region, or all changed pixels. */
      measure: 'region' | 'changed';
      threshold: number;
      /** Seconds, rising. */
      times: ArrayLike<number>;
      /** Pixels, one for each time. */
      pixels: ArrayLike<number>;
    }
  | { kind: 'not measured'; why: string };

export type LabelsShown =
  | { kind: 'labelled'; score: Score; visits: readonly VisitShown[]; ignored: readonly IgnoredShown[] }
  | { kind: 'unlabelled' };

/** An animal visit. */
export interface VisitShown extends Stretch {
  name: string | null;
  caught: boolean;
}

/** Time that counts for nothing, and what it was. */
export interface IgnoredShown extends Stretch {
  kind: 'set aside' | 'other visitor' | 'not reviewed';
  /** Why it was set aside, or who came. */
  why: string | null;
}

/** taken: photos of an animal, or all photos where nothing can be told; nothing: photos without one; missed: visits without a photo. */
export type PictureKind = 'taken' | 'nothing' | 'missed';
export const pictureKinds = ['taken', 'nothing', 'missed'] as const;
