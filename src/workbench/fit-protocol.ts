import type { FitResult } from '../jobs/fit.js';

/** POST api/fit (streamed, with a `CameraFound`), and api/bring-in/ID/fit for what was sent: `evening` is left out there. */
export interface FitAsked {
  /** The id of the clip that was recorded meanwhile. */
  clip: string;
  /** The id of an evening of the opened folder, whose photos tell when the camera fired. */
  evening?: string;
  /** Whether what camera.json says of its pictures' size and its dials is right. */
  known: boolean;
  /** Photos a trigger; left out: as they show it themselves. */
  each?: number | undefined;
}

/** What was found; the last is kept while the server runs: GET api/fitted gives it, or null. */
export interface CameraFound {
  clip: string;
  /** Whether size and dials were those that are kept. */
  known: boolean;
  result: FitResult;
  /** What should be known of the times, a line each. */
  warnings: string[];
}
