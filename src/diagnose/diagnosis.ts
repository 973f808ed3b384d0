import type { Settings } from '../camera/settings.js';
import type { Polygon } from '../engine/mask.js';
import type { Ratio } from '../score/intervals.js';
import type { causeNames } from '../score/labels.js';
import type { Difference } from '../score/paired-difference.js';
import type { Judged } from '../score/replayed.js';

export type CauseName = (typeof causeNames)[number];
/** A cause that the model puts down, or a visit that the labels tell of: one that had only just ended, or was too short for the photo. */
export type CauseSaid = CauseName | 'visit';

/** x, y, width, height as fractions of the frame, from the top left. */
export type Box = [x: number, y: number, width: number, height: number];

/** All engine values of a group of settings, in the form of a settings file that can be used as it stands. */
export interface SettingsOut extends Settings {
  version: 1;
  mask?: Polygon[];
}

/** What diagnosing clips under one group of settings found. */
export interface Diagnosis {
  clips: readonly ClipDiagnosis[];
  /** Best first; over all labelled clips together. */
  cures: readonly Cure[];
  /** What was not tried, or did not hold, and why: one sentence each. */
  notes: readonly string[];
  /** What the owner's corrections taught of each site; only where that was asked for. */
  taught?: readonly Taught[];
}

/** One clip. Times in seconds from its start. */
export interface ClipDiagnosis {
  /** As it was named on the command line. */
  clip: string;
  /** Whether clip.json says that weather was put onto it. */
  simulated: boolean;
  seconds: number;
  judged: Judged;
  /** The false triggers; all triggers where the clip has no labels, for nothing tells which of them were false. */
  explained: readonly ExplainedTrigger[];
  missed: readonly MissedVisit[];
  /** Caught visits, by their places, for which something outside their box fired: told only where labels give boxes. */
  byLuck: readonly number[];
  places: Places;
}

/** Why a trigger fired, by the cause model or by the labels. */
export interface ExplainedTrigger {
  time: number;
  cause: CauseSaid;
  /**
   * Of that cause, calibrated; for 'unknown' that of the likeliest cause, below 0.5, or of something new in view; null for
   * 'visit', which the labels tell and not the model.
   */
  probability: number | null;
  /** One plain sentence. */
  evidence: string;
  /** Around what fired. */
  box: Box;
}

export const missReasons = [
  'too faint',
  'too small',
  'too brief',
  'cooldown',
  'shutter',
  'masked',
  'absorbed',
] as const;
export type MissReason = (typeof missReasons)[number];

/** What a reason's own word does not say: it was too brief, for frames in which more changes than mostChanged allows do not count. */
export const missNotes = ['too much changed'] as const;
export type MissNote = (typeof missNotes)[number];

/** Why a visit left no photo, exactly, from the evidence. */
export interface MissedVisit {
  /** Its place among the clip's animal visits. */
  visit: number;
  start: number;
  end: number;
  name: string | null;
  why: MissReason;
  note?: MissNote;
  /** One plain sentence with the figures it rests on. */
  evidence: string;
  needs: Needs | null;
}

/** The nearest group of settings that would have caught a visit, of those that lose no other where there are any, and what it would cost on all labelled clips. */
export interface Needs {
  settings: SettingsOut;
  /** The camera's dials, where each value stands at a position of its dial. */
  controls: Record<string, number> | null;
  /** More false triggers than now; below 0 where there would be fewer. */
  falseAdded: number;
  /** Other visits caught now that would be lost, and missed ones (this one among them) that would be caught. */
  visitsLost: number;
  visitsGained: number;
}

export interface Cure {
  kind: 'mask' | 'dial' | 'persistence' | 'mostChanged';
  settings: SettingsOut;
  /** The dial turned and its positions; null for a mask or a value that no dial sets. */
  turn: { dial: string; from: number; to: number } | null;
  /** A mask for one place of several: the clips recorded there, which its counts are of; left out: all clips. */
  clips?: readonly string[];
  /** Measured over all the footage. */
  falseRemoved: number;
  visitsLost: number;
  visitsGained: number;
  /** False triggers and caught visits as they are now, which the counts above are taken from. */
  of: { falseTriggers: number; caught: number };
  /** On the half of the footage that it was not worked out on. */
  proof: { falseRemoved: number; falseTriggers: number; visitsLost: number; caught: number };
}

/** Where in the picture: a grid of cells, rows from the top, one count for each cell. */
export interface Places {
  columns: number;
  rows: number;
  /** In how many explained triggers something that fired lay in the cell. */
  explained: readonly number[];
  /** In how many animal visits the animal was in the cell: by what fired in the visit's true triggers within its box, else all of its box. */
  animals: readonly number[];
}

/** What an owner's corrections taught of one site. */
export interface Taught {
  site: string | null;
  /** As they were named. */
  clips: readonly string[];
  /** False triggers, those among them whose cause was told, and bunches that these come in. */
  triggers: number;
  told: number;
  bouts: number;
  /** So many told, in so many bunches, are the least that anything is learnt from. */
  needed: { told: number; bouts: number };
  /** Only what is 'better' is used. */
  verdict: 'better' | 'no better' | 'too little to tell';
  /** On triggers left out; null where there is too little to tell. */
  judged: Judgement | null;
  /** Triggers of which another cause is said now; 0 where nothing is used. */
  changed: number;
}

/** How what was learnt does on triggers that it was not learnt from. */
export interface Judgement {
  how: 'leave one clip out' | 'blocks of time';
  /** Of the told triggers, those of which the cause told was the likeliest. */
  right: { shipped: Ratio; taught: Ratio };
  /** Natural logarithm of the probability given to the cause told, mean over triggers, sign turned: the less the better. */
  logLoss: {
    shipped: number;
    taught: number;
    /** The first less the second, with its 90 % interval: bouts of triggers are the units. */
    gained: Difference;
  };
}
