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
import { hoursAsked, photosAsked, worthAsked } from '../wanted-asked.js';

const sure = z.number().min(0.5).max(0.99).optional().describe('a probability');

const askedSchema = z.strictObject({
  clips: clipsAsked,
  wanted: z.union([
    z.strictObject({ worth: worthAsked }),
    z.strictObject({
      photosPerDay: photosAsked,
      hoursOut: hoursAsked,
      sure,
    }),
  ]),
  hoursOut: hoursAsked.optional(),
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
