import type { Advice } from '../diagnose/advice.js';
import type { Cure, ExplainedTrigger, MissedVisit, Places } from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import type { PictureGroup } from './picture-data.js';

/** What a report shows of a diagnosis, as plain data. */
export interface DiagnosisShown {
  clips: readonly DiagnosedClip[];
  /** Best first. */
  cures: readonly CureShown[];
  /** What was not tried, or did not hold, and why. */
  notes: readonly string[];
  advice: readonly Advice[];
  /** What the owner's corrections taught, in words, site by site. */
  taught: readonly string[];
}

/** One clip. Times in seconds from its start. */
export interface DiagnosedClip {
  /** As it was named on the command line: cures name clips so. */
  dir: string;
  name: string;
  labelled: boolean;
  /** The false triggers; all of them where the clip has no labels. */
  explained: readonly ExplainedTrigger[];
  /** Animal visits, caught and missed. */
  visits: number;
  /** With what would have caught each and its price, in words. */
  missed: readonly (MissedVisit & { needed: string })[];
  /** Which visits were caught by luck, in words; null where none was. */
  luck: string | null;
  pictures: { fired: PictureGroup; missed: PictureGroup };
  places: Places;
  backdrop: Backdrop;
  /** What is not watched now. */
  mask: readonly Polygon[];
}

/** What a map is drawn on. */
export interface Backdrop {
  /** A pale grey JPEG of the scene as a data: address; null where no frame of it may be shown. */
  address: string | null;
  /** Height of the frame for each unit of its width. */
  aspect: number;
}

export interface CureShown extends Cure {
  /** What to do, in words. */
  words: string;
  /** The polygons to mask beside those masked now. */
  added: readonly Polygon[];
}
