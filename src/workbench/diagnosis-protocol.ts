import type { SettingsFile } from '../camera/settings.js';
import type { Advice } from '../diagnose/advice.js';
import type { Cure, ExplainedTrigger, MissedVisit } from '../diagnose/diagnosis.js';
import type { Labels } from '../score/labels.js';
import type { Score } from '../score/score.js';

/**
 * POST api/clips/ID/diagnosis and api/clips/ID/masking: under these settings with these labels, whether or not they have
 * been saved yet.
 */
export interface ClipAsked {
  settings: SettingsFile;
  labels: Labels;
  /** Of a diagnosis: whether to learn from the causes in the labels. */
  teach?: boolean;
}

/** Result of POST api/clips/ID/diagnosis (streamed). Times in seconds from the clip's start. */
export interface DiagnosisTold {
  /** The false triggers. */
  explained: readonly ExplainedTrigger[];
  missed: readonly MissedVisit[];
  /** Best first. */
  cures: readonly Cure[];
  /** What was not tried, or did not hold, and why. */
  notes: readonly string[];
  /** Which visits were caught by luck, in words; null where none was. */
  luck: string | null;
  advice: readonly Advice[];
  /** What the corrections taught, in words; null where that was not asked for. */
  taught: string | null;
}

/** Result of POST api/clips/ID/masking (streamed): what a mask does to the clip, and where it fires without one. */
export interface MaskingTold {
  without: MaskEffect;
  withIt: MaskEffect;
  /** Where something lay that fired falsely with nothing masked; rows from the top. */
  where: { columns: number; rows: number; counts: readonly number[] };
}

export interface MaskEffect {
  score: Score;
  /** For each animal visit, in order of start. */
  visits: readonly { start: number; end: number; name?: string | undefined; caught: boolean }[];
}
