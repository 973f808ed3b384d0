import type { EveningResult } from '../jobs/evening.js';
import type { Seen } from '../outing/evening/photo.js';

/** GET api/evenings */
export interface EveningsListed {
  evenings: EveningListed[];
  promises: PromiseFound[];
  /** Names of the spots of a project, of which an evening may be; null: there is no project. */
  spots: string[] | null;
}

/** A folder of photos in the opened one. */
export interface EveningListed {
  /** Names it in addresses, encoded: encodeURIComponent. */
  id: string;
  /** Whether there are marks of it. */
  marked: boolean;
  /** The file of what was promised for it, where a project says so. */
  promised: string | null;
  /** The spot that a project says they are of. */
  site: string | null;
  /** One line where it cannot be opened. */
  problem: string | null;
}

/** What tune or plan promised for one spot, in a file of the opened folder. */
export interface PromiseFound {
  /** Its path from there. */
  file: string;
  kind: 'tune' | 'plan';
  site: string | null;
  /** Of a plan, the hours that it is for: seconds since 1970 in UTC; null: all time is meant. */
  hours: { from: number; until: number } | null;
  /** When the file was last changed, milliseconds since 1970. */
  changed: number;
}

export interface EveningBroughtIn {
  evening: string;
  photos: number;
}

/** Result of POST api/evenings/ID/open (streamed). */
export interface EveningOpened {
  id: string;
  /** In order of time, those without one last. */
  photos: PhotoListed[];
  /** The burst that each photo belongs to. */
  bursts: number[];
  /** Pixels that a small picture is wide and high at most. */
  side: number;
  marks: MarksState;
}

export interface PhotoListed {
  /** Relative to the evening's folder. */
  name: string;
  /** Seconds by the camera's clock; null where nothing tells. */
  time: number | null;
  /** Another when the file is another. */
  version: string;
}

/** GET api/evenings/ID/marks, and the answer to PUT there; 409 with it where the file is not what `base` names. */
export interface MarksState {
  marks: [photo: string, seen: Seen][];
  /** Names the content on disk; '' where there is none. */
  revision: string;
  /** The file's name, for people. */
  file: string;
  /** Names the file itself, whichever server it is asked of. */
  key: string;
}

/** POST api/evenings/ID/told (streamed, with an `EveningTold`): of the marks as they are on disk. */
export interface EveningAsked {
  /** One of the promises listed; null: none. */
  promised: { file: string; site: string | null } | null;
  /** When the camera was out, and what its clock is ahead of UTC, as typed; '' where not said. */
  from: string;
  until: string;
  clock: string;
}

/** What came of it; its photos are not named. */
export interface EveningTold {
  /** While the server keeps it, POST api/evenings-told/KEY/report { replace }, answered with a `Saved`, writes its report. */
  key: string;
  result: EveningResult;
}
