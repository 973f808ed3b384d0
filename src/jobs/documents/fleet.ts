import { z } from 'zod';

/** What answers depend on beside what goes into a job: machines of a fleet must have the same. */
export const programSchema = z.strictObject({
  version: z.string().describe('of Perchmark'),
  engine: z.int().describe('of what the engine computes'),
  weather: z.int().describe('of simulated weather'),
});

/** Verbs whose documents a fleet works out. */
export const fleetVerbs = ['check', 'tune', 'diagnose'] as const;

/** What a job does: keeps a clip's evidence; tunes a site; checks or diagnoses a clip; writes the document of a run. */
export const kindSchema = z.enum(['read', 'tune', 'check', 'diagnose', 'write']);

/** What went wrong with a part of a run. */
export const troubleSchema = z.strictObject({ clips: z.array(z.string()), message: z.string() });

/** The exit code of a verb on one machine. */
export const codeSchema = z.union([z.literal(0), z.literal(1), z.literal(2)]);

const count = z.int().min(0);
const left = z
  .number()
  .min(0)
  .nullable()
  .describe('seconds until all is done, with the workers of now; null: not known yet, or nobody is at work');
const progress = z.strictObject({
  jobs: count,
  ended: count,
  running: count,
  secondsLeft: left,
});
const figures = z
  .strictObject({
    visits: count.nullable(),
    missed: count,
    falseTriggers: count,
    watchedHours: z.number().min(0).nullable(),
  })
  .nullable();

const run = z.strictObject({
  run: z.string().describe('its folder in fleet/results'),
  verb: z.enum(fleetVerbs),
  source: z.string(),
  program: programSchema,
  submitted: z.string(),
  state: z
    .enum(['waiting', 'running', 'ended', 'failed', 'lost'])
    .describe('lost: its jobs are not in this queue, which was emptied, or is another'),
  ended: z.string().nullable(),
  code: codeSchema.nullable().describe('exit code of the verb on one machine; null: not ended'),
  message: z.string().nullable().describe('what the verb says where it ends with 2, or why writing failed'),
  document: z.string().nullable().describe('within the shared folder'),
  progress,
  kinds: z.array(
    z.strictObject({ kind: kindSchema, jobs: count, ended: count, seconds: z.number().nullable() }),
  ),
  troubles: z
    .array(troubleSchema)
    .describe('clips that cannot be used or were changed meanwhile, and jobs that failed'),
});

const site = z.strictObject({
  site: z.string().nullable(),
  run: z.string(),
  source: z.string(),
  verb: z.enum(fleetVerbs),
  progress,
  change: z
    .enum(['worse', 'changed', 'new', 'better', 'same'])
    .nullable()
    .describe('since the time before, by counts alone; null: there is no document yet'),
  now: figures,
  before: figures.describe('of the last run of the same source and verb; null: there is none'),
});

/** fleet status --json */
export const statusSchema = z.strictObject({
  queue: z.string().describe('its address, without user and password'),
  runs: z.array(run).describe('the last of each source and verb, and all that have not ended'),
  sites: z.array(site).describe('of those runs; worse ones first'),
});

/** fleet submit --json */
export const submitSchema = z.strictObject({
  run: z.string().describe('its folder in fleet/results of the shared folder'),
  clips: count,
  jobs: count,
  queued: count.describe('jobs that were not in the queue before'),
  ended: z.boolean().describe('whether all of it was worked out before'),
});

/** fleet work --json */
export const workSchema = z.strictObject({
  done: count.describe('jobs that this worker did'),
  bad: count.describe('of clips that cannot be used'),
  failed: count.describe('tried here in vain'),
  lost: count.describe('taken by others meanwhile, because this worker was not heard of in time'),
  runs: z.array(z.string()).describe('that it worked for'),
});
