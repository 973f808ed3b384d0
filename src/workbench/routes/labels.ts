import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { labelsSchema } from '../../score/labels.js';
import type { Bench } from '../bench.js';
import { labelsOnDisk, writeLabels } from '../labels-on-disk.js';

const writeSchema = z.strictObject({
  labels: labelsSchema,
  base: z.string().describe('the revision that they stand on'),
});

/** Reading labels, and writing them unless somebody else did meanwhile. */
export function labelRoutes({ workspace, ports }: Bench): Hono {
  return new Hono()
    .get('/clips/:id/labels', async (c) => {
      const id = c.req.param('id');
      return c.json(await labelsOnDisk(await workspace.place(id), await workspace.recording(id, ports)));
    })
    .put('/clips/:id/labels', async (c) => {
      const id = c.req.param('id');
      const asked = parseJson(await c.req.text(), 'what is sent', writeSchema, 'labels and their revision');
      const place = await workspace.place(id);
      const clip = await workspace.recording(id, ports);
      const { written, ...state } = await writeLabels(place, clip, asked.labels, asked.base);
      return c.json(state, written ? 200 : 409);
    });
}
