import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { settingsSchema } from '../../camera/settings.js';
import type { Clip } from '../../clip/open.js';
import { tune } from '../../jobs/tune.js';
import type { Answered } from '../answer-protocol.js';
import { answersOf } from '../answers.js';
import type { Bench } from '../bench.js';
import { clipsAsked } from '../clip-asked.js';
import { streamed } from '../streamed.js';

const most = 1_000_000;
const hours = z.number().min(0.01).max(24).describe('hours a day');
const sure = z.number().min(0.5).max(0.99).optional().describe('a probability');

const askedSchema = z.strictObject({
  clips: clipsAsked,
  wanted: z.union([
    z.strictObject({ worth: z.number().min(0.1).max(most).describe('photos of nothing') }),
    z.strictObject({
      photosPerDay: z.number().min(0).max(most).describe('photos of nothing a day'),
      hoursOut: hours,
      sure,
    }),
  ]),
  hoursOut: hours.optional(),
  now: settingsSchema.nullable(),
  recordedOnly: z.boolean(),
});

/** What should I use? */
export function tuneRoutes({ workspace, ports, turns }: Bench): Hono {
  return new Hono().post('/tune', async (c) => {
    const asked = parseJson(await c.req.text(), 'what is asked', askedSchema, 'clips and what is wanted');
    return streamed<Answered>(ports.cache, (told) =>
      turns.take('working out what to use', told, async () => {
        const { camera } = await workspace.camera();
        const clips: Clip[] = [];
        for (const id of asked.clips) clips.push(await workspace.clip(id, told));
        const { wanted, now, recordedOnly } = asked;
        const result = await tune({ clips, camera, wanted, now: now ?? undefined, recordedOnly }, told);
        const hoursOut = asked.hoursOut ?? ('hoursOut' in wanted ? wanted.hoursOut : undefined);
        return { ...result, id: answersOf(workspace).keep({ result, clips, camera, hoursOut }) };
      }),
    );
  });
}
