import { isAbsolute } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../base/json.js';
import { cameraSchema } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { kindSchema, programSchema } from '../jobs/documents/fleet.js';

/** Paths within the shared folder, with / between names: it may lie elsewhere on each machine. */
export const sharedPath = z
  .string()
  .min(1)
  .max(4096)
  .refine((path) => !isAbsolute(path) && !path.split(/[\\/]/).includes('..'), {
    message: 'a path within the shared folder',
  });

export type Kind = z.output<typeof kindSchema>;

/** What a job is told. It holds no state and no secrets: all else is content of the shared folder. */
const payloadSchema = z.strictObject({
  kind: kindSchema,
  program: programSchema,
  clips: z.array(sharedPath).describe('that it reads'),
  seen: z
    .array(z.string().nullable())
    .describe('of a tuning: what each clip was when it was submitted, as in run.json; of others empty'),
  camera: cameraSchema.nullable().describe('null: a write, which goes by its run'),
  settings: z.custom<ResolvedSettings>().nullable().describe('of a tuning: those in use'),
  site: z.string().nullable().describe('that a project gives the clips; null: their own'),
  run: z
    .string()
    .regex(/^[\w-]+$/)
    .describe('the folder of results that it was submitted for'),
});

export type Payload = z.output<typeof payloadSchema>;

/** A payload as it came from the queue. @throws Problem for anything else */
export function readPayload(text: string): Payload {
  return parseJson(text, 'a job of the queue', payloadSchema, 'what the job is of');
}
