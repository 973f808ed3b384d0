import type { FoundPhoto } from '../../clip/photo-folder.js';
import type { Between } from '../../outing/between.js';
import type { HoursOut } from '../../outing/evening/hours-out.js';
import type { RecordNext } from '../../outing/evening/next.js';
import type { PartTold } from '../../outing/evening/parts.js';
import type { Seen } from '../../outing/evening/photo.js';
import type { Tally } from '../../outing/evening/tally.js';
import type { Verdict } from '../../outing/evening/verdict.js';
import type { Rate } from '../../score/intervals.js';
import type { CameraGiven } from '../open.js';
import type { PromisedFile } from './promised.js';

export interface EveningInput {
  /** The folder that the photos were copied into. */
  folder: string;
  /** A CSV file of what was seen in them; left out: nobody has looked yet. */
  marks?: string | undefined;
  /** What `tune --json` or `plan --json` printed, and which of its sites where it has several. */
  promised?: { file: string; site?: string | undefined } | undefined;
  /** For how many photos it takes a trigger, where the photos do not show that it cannot be so; left out: what the promise says, or else what the photos tell. */
  camera?: CameraGiven | undefined;
  /** What the camera's clock is ahead of UTC: +01:00, or Z; left out: it shows what that of a plan shows, where that is not Z. */
  clock?: string | undefined;
  /** When the camera was out, by its own clock: "2026-05-09 06:30", or 06:30 on the day of the first and the last photo. */
  from?: string | undefined;
  until?: string | undefined;
  /** What whoever gives these is told that they are called, where one of them is wrong; left out: the options of the command line. */
  called?: EveningCalled | undefined;
}

/** What clock, from and until are called where they are given. */
export interface EveningCalled {
  clock: string;
  from: string;
  until: string;
}

/** A photo and what somebody saw in it. */
export interface SeenPhoto extends FoundPhoto {
  seen: Seen | null;
}

/** Weather, as a plan foretold it, and what came in its hours. */
export interface ConditionTold extends Tally {
  conditions: string;
  hours: number;
  nothingPerHour: Rate | null;
}

/** What must be known before photos are held against a promise, or speaks against it; or that it was neither broken nor could be kept. */
export type Withheld =
  | 'photos a trigger not known'
  | 'other photos a trigger'
  | 'clock not known'
  | 'promise too wide';

/** What was promised for the hours out. */
export interface PromiseTold {
  kind: PromisedFile['kind'];
  site: string | null;
  /** Why nothing is held against it although something was promised; null: it is. */
  withheld: Withheld | null;
  /** That a promise in triggers was taken for; null: not known. */
  photosPerTrigger: number | null;
  /** Photos of nothing an hour, 90 %; null: nothing was promised for these hours. */
  nothingPerHour: Between | null;
  /** Photos of nothing an hour in those hours for which something was promised, the 90 % by bouts; null for none. */
  came: Rate | null;
  /** About how many hours out would tell, were it as promised; null: it is told already, or a month would not. */
  hoursToTell: number | null;
  /** Photos in those hours that may be of nothing, because nobody has marked them or their time is not known. */
  untold: number;
  /** Hours out for which something was promised, and for which nothing was. */
  hours: number;
  hoursWithout: number;
}

export interface EveningResult extends Tally {
  folder: string;
  /** All photos, in order of time; those without one last. */
  all: readonly SeenPhoto[];
  /** Photos whose time nothing tells. */
  withoutTime: number;
  /** Photos before or after the hours that were given, which count nowhere. */
  outside: number;
  /** Null where no two photos tell how long the camera was out. */
  out: (HoursOut & { hours: number }) | null;
  /** Over all hours out. */
  nothingPerHour: Rate | null;
  byHour: readonly PartTold[];
  /** By the stretches of a plan; null without one. */
  byStretch: readonly PartTold[] | null;
  byCondition: readonly ConditionTold[] | null;
  promised: PromiseTold | null;
  /** Null where no promise was given, or it is withheld. */
  verdict: Verdict | null;
  next: RecordNext | null;
  /** What stood in for what nobody said. */
  assumed: string[];
  notes: string[];
}

/** What was written where; null: not asked for. */
export interface EveningWritten {
  sheet: string | null;
  marks: string | null;
  report: string | null;
}
