import type { Job as EngineJob } from 'bullmq';
import type { Payload } from './payload.js';
import type { Outcome, Standing } from './queue.js';

/** How many workers may be lost over one job: it may be what ends them. */
export const MOST_LOST = 20;

/** What the engine keeps of a job. */
export interface Data {
  needs: readonly string[];
  payload: unknown;
}
export type Kept = EngineJob<Data, Outcome>;

/** What a dashboard of the engine shows: check clips/alder; tune clips/alder and 3 more */
export function nameOf({ kind, clips, run }: Payload): string {
  if (kind === 'write') return `write ${run}`;
  const more = clips.length > 1 ? ` and ${clips.length - 1} more` : '';
  return `${kind} ${clips[0] ?? ''}${more}`;
}

/** The engine's words for where a job stands; all others mean that it waits. */
const STATES = new Map<string, Standing['state']>([
  ['completed', 'done'],
  ['failed', 'failed'],
  ['active', 'running'],
]);

/** @param engine where the job stands, in the engine's words */
export function standingOf(job: Kept, engine: string): Standing {
  const { processedOn: from, finishedOn: to } = job;
  const state = STATES.get(engine) ?? 'waiting';
  return {
    state,
    outcome: state === 'done' ? (job.returnvalue ?? null) : null,
    why: state === 'failed' ? whyFailed(job) : null,
    seconds: from !== undefined && to !== undefined && to !== null ? (to - from) / 1000 : null,
  };
}

function whyFailed({ failedReason = '' }: Kept): string {
  if (failedReason === '') return 'no reason was given';
  if (!/stalled more than/.test(failedReason)) return failedReason;
  return `${MOST_LOST} workers were lost over it, so that it may be what ends them; see what they said, and how much memory they have`;
}
