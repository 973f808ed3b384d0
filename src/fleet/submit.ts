import type { Agree } from '../jobs/documents/agree.js';
import type { submitSchema } from '../jobs/documents/fleet.js';
import { planRun } from './plan-run.js';
import type { Program } from './program.js';
import type { Queue } from './queue.js';
import { endOf, writeRun } from './shared-folder.js';
import type { Asked } from './source.js';

/** What became of what was submitted. */
export interface SubmitResult {
  /** The folder of results, in fleet/results. */
  run: string;
  clips: number;
  jobs: number;
  /** Jobs that were not in the queue before. */
  queued: number;
  /** Whether all of it was worked out before, so that nothing is left to do. */
  ended: boolean;
}

/**
 * Puts the jobs of a run into the queue; what others have submitted of it is not put in again.
 * @throws Problem for anything wrong with what was asked
 */
export async function submit(asked: Asked, program: Program, queue: Queue): Promise<SubmitResult> {
  const { name, run, jobs } = await planRun(asked, program, queue.now());
  const about = { run: name, clips: run.clips.length, jobs: jobs.length };
  const end = await endOf(name);
  if (end && end.code !== 2) return { ...about, queued: 0, ended: true };
  if (!end) await writeRun(name, run);
  const last = jobs.at(-1)!.key;
  const state = (await queue.standings([last])).get(last)?.state;
  // Its end was written, but is there no more; or it ended badly, and may not any more.
  const again = state === 'done' || state === 'failed';
  return { ...about, queued: await queue.submit(jobs, again ? 'redo' : 'leave'), ended: false };
}

true satisfies Agree<typeof submitSchema, SubmitResult>;
