import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { MOST_PHOTOS } from '../../jobs/fit/fired-given.js';
import type { Bench } from '../bench.js';
import { Evenings } from '../evenings.js';
import type { CameraFound } from '../fit-protocol.js';
import { findCamera, lastFound } from '../fitting.js';
import { streamed } from '../streamed.js';

const askedSchema = z.strictObject({
  clip: z.string(),
  evening: z.string().describe('photos of the opened folder'),
  known: z.boolean(),
  each: z.int().min(1).max(MOST_PHOTOS).optional().describe('photos a trigger'),
});

/** Which camera fires as the owner's did, by photos that are in the folder; those from elsewhere come as recordings do. */
export function fitRoutes(bench: Bench): Hono {
  const evenings = new Evenings(bench.workspace);
  return new Hono()
    .get('/fitted', (c) => c.json(lastFound(bench.workspace)))
    .post('/fit', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is asked', askedSchema, 'a clip and an evening');
      return streamed<CameraFound>(bench.ports.cache, async (told) => {
        const { folder } = await evenings.place(asked.evening);
        return findCamera(bench, asked, folder, asked.evening, told);
      });
    });
}
