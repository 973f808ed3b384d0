import type { SettingsFile } from '../camera/settings.js';
import type { TuneResult, Wanted } from '../jobs/tune.js';

/** POST api/tune (streamed, with an `Answered`): what should I use? */
export interface TuneAsked {
  /** Ids of labelled clips. */
  clips: string[];
  wanted: Wanted;
  /** Hours a day that the camera is out; left out: as what is wanted says, or all day. */
  hoursOut?: number;
  /** What is used today; null: every dial at its middle stands in. */
  now: SettingsFile | null;
  /** Leave out weather that nobody recorded, instead of simulating it. */
  recordedOnly: boolean;
}

/** What was found. Clips are named by their ids. */
export interface Answered extends TuneResult {
  /**
   * While the server keeps it, GET api/answers/ID/report and api/answers/ID/card/N (the site's place) give one page of HTML
   * each, to look at or to print.
   */
  id: string;
}

/** POST api/answers/ID/save (streamed, with a `Saved`): writes into the opened folder. */
export interface AnswerSave {
  /** promise: what it promises for photos of nothing, to hold an evening's photos against. */
  what: 'settings' | 'card' | 'report' | 'promise';
  /** Whether to write over files of these names. */
  replace: boolean;
}

export interface Saved {
  /** Where the files are. */
  folder: string;
  /** Names of what was written; none where `there` names any. */
  files: string[];
  /** Files that are there already, and may be replaced if the owner says so. */
  there: string[];
}
