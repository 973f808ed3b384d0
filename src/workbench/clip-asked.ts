import type { Context } from 'hono';
import { z } from 'zod';
import { parseJson } from '../base/json.js';
import type { Camera } from '../camera/description.js';
import { type ResolvedSettings, resolveSettings, settingsSchema } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { OpenPorts } from '../jobs/ports.js';
import { labelsSchema } from '../score/labels.js';
import { checkLabels } from '../score/labels-check.js';
import type { Workspace } from './workspace.js';

const askedSchema = z.strictObject({
  settings: settingsSchema,
  labels: labelsSchema,
  teach: z.boolean().default(false),
});

/** The clips that something is asked of. */
export const clipsAsked = z
  .array(z.string())
  .min(1)
  .refine((ids) => new Set(ids).size === ids.length, 'each clip once, because its visits would count twice')
  .describe('at least one clip');

export type Asked = z.output<typeof askedSchema>;

/** @throws Problem for what is no settings and labels */
export async function askedIn(c: Context): Promise<Asked> {
  return parseJson(await c.req.text(), 'what is asked', askedSchema, 'settings and labels');
}

export interface Case {
  /** With the labels that were sent, which may not have been saved yet. */
  clip: Clip;
  camera: Camera;
  settings: ResolvedSettings;
}

/** @throws Problem where they do not fit the clip or the camera */
export async function caseOf(
  workspace: Workspace,
  id: string,
  asked: Asked,
  ports: OpenPorts,
): Promise<Case> {
  const { camera } = await workspace.camera();
  const { name } = await workspace.place(id);
  const recording = await workspace.recording(id, ports, 'closely');
  const { labels } = checkLabels(asked.labels, recording.seconds, 'labels');
  return {
    clip: { ...recording, dir: name, labels },
    camera,
    settings: resolveSettings(asked.settings, camera, 'the dials'),
  };
}
