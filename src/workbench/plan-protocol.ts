import type { SettingsFile } from '../camera/settings.js';
import type { Awake, PlanResult } from '../jobs/plan.js';

/** POST api/plan (streamed, with a `Planned`): what to use in the coming days. */
export interface PlanAsked {
  /** Ids of labelled clips. */
  clips: string[];
  /** A CSV as `perchmark plan --forecast` reads it, and what it is called. */
  forecast: { name: string; text: string };
  /** In photos of nothing: one more visit, and a walk to the camera. */
  worth: number;
  /** What every hour keeps its share of, a visit's worth counting against walks alone; null: whatever is worth most. */
  allowance: { photosPerDay: number; hoursOut: number } | null;
  walk: number;
  awake: Awake;
  /** Leave out weather that nobody recorded, instead of simulating it. */
  recordedOnly: boolean;
  /** What is used now; null: nobody said. */
  inUse: SettingsFile | null;
}

/** What was found; clips are named by their ids. GET api/planned gives the last, or null, while the server runs. */
export interface Planned {
  /** While the server keeps it, GET api/plans/ID/report gives a page of HTML. */
  id: string;
  result: PlanResult;
  /** What should be known of forecast and clips, a line each. */
  warnings: string[];
}

/** POST api/plans/ID/save, answered with a `Saved`: writes into the opened folder. */
export interface PlanSave {
  /** promise: the plan as `perchmark plan --json` prints it, to hold an evening's photos against. */
  what: 'calendar' | 'report' | 'promise';
  replace: boolean;
}
