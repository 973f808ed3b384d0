import { z } from 'zod';
import { cameraSchema } from '../camera/description.js';
import { type ResolvedSettings, settingsSchema } from '../camera/settings.js';
import { codeSchema, fleetVerbs, kindSchema, programSchema, troubleSchema } from '../jobs/documents/fleet.js';
import { sharedPath } from './payload.js';

export type FleetVerb = (typeof fleetVerbs)[number];

const site = z.string().nullable().describe('null: clips that name no site');

/** Clips under one camera, as a project has them. */
const spotSchema = z.strictObject({
  site: z.string(),
  clips: z.array(sharedPath),
  camera: cameraSchema,
  settings: z.custom<ResolvedSettings>().nullable().describe('in use there'),
});

/** run.json: what somebody asked a fleet for. */
export const runSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  verb: z.enum(fleetVerbs),
  source: sharedPath.describe('the suite, the list of clips or the project'),
  site: z.string().nullable().describe('of a project, the spot that is meant; null: all'),
  spots: z.array(spotSchema).describe('of a project; empty: it is none'),
  camera: sharedPath.nullable().describe('null: the default camera'),
  settings: z.union([sharedPath, settingsSchema]).nullable(),
  program: programSchema,
  submitted: z.string().describe('when, RFC 3339'),
  clips: z.array(
    z.strictObject({
      path: sharedPath,
      site,
      seen: z.string().nullable().describe('other where it was changed since; null: it could not be opened'),
    }),
  ),
  jobs: z.array(
    z.strictObject({ key: z.string(), kind: kindSchema, clips: z.array(sharedPath), site: site.optional() }),
  ),
});

export type Run = z.output<typeof runSchema>;

/**
 * What was asked for: of runs that ask the same, the later one counts. The camera and the settings of a suite or a project are
 * what it says, as its clips are; to those of a list whoever asks adds them.
 */
export function askedIn({ verb, source, site, camera, settings }: Run): string {
  const added = isList(source) ? [camera, settings] : [];
  return JSON.stringify([verb, source, site, ...added]);
}

/** Whether it is a list of clips; else it is a suite or a project. */
export function isList(source: string): boolean {
  return !source.endsWith('.json');
}

/** What went wrong with a part of a run. */
export type Trouble = z.output<typeof troubleSchema>;

/** outcome.json: how a run ended. */
export const endSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  ended: z.string().describe('when, RFC 3339'),
  code: codeSchema.describe('exit code of the verb on one machine'),
  message: z.string().nullable().describe('what the verb says where it ends with 2'),
  troubles: z
    .array(troubleSchema)
    .describe('clips that cannot be used or were changed meanwhile, and jobs that failed'),
});

export type End = z.output<typeof endSchema>;
