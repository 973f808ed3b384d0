import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import type { Bench } from '../bench.js';
import { labelsOnDisk, writeLabels } from '../labels-on-disk.js';

/** Reading labels, and writing them unless somebody else did meanwhile. */
export function labelRoutes({ workspace, ports }: Bench): Hono {
  return new Hono()
    .get('/clips/:id/labels', async (c) => {
      const id = c.req.param('id');
      return c.json(await labelsOnDisk(await workspace.place(id), await workspace.recording(id, ports)));
    })
    .put('/clips/:id/labels', async (c) => {
      const id = c.req.param('id');
      const body: unknown = await c.req.json().catch(() => null);
      if (typeof body !== 'object' || body === null || !('labels' in body) || !('base' in body)) {
        throw new Problem('bad-field', 'labels: expected labels and the revision that they stand on');
      }
      const { labels, base } = body;
      const place = await workspace.place(id);
      const clip = await workspace.recording(id, ports);
      const { written, ...state } = await writeLabels(place, clip, labels, String(base));
      return c.json(state, written ? 200 : 409);
    });
}
