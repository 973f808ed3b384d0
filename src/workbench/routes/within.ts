import { Hono } from 'hono';
import type { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { refuseOffFrame } from '../../camera/on-frame.js';
import { settingsSchema } from '../../camera/settings.js';
import { labelsSchema } from '../../score/labels.js';
import { checkLabels } from '../../score/labels-check.js';
import type { Bench } from '../bench.js';
import { levelsOf, readUnder } from './evidence.js';

/** Bytes that are handed to the page at most: 130 visits of ten seconds at 5 frames a second take 7 MB with all levels. */
const MOST_BYTES = 64 * 2 ** 20;

const askedSchema = settingsSchema.pick({ mask: true }).extend({ labels: labelsSchema });

/** POST clips/ID/within: with these labels, which may not be saved yet, under this mask; left out, under theirs. */
export type WithinAsked = z.input<typeof askedSchema>;

/**
 * How much changed within the boxes of visits, for the page to tell who was caught by luck: Uint32, little-endian: rows,
 * levels, the levels, then for each level a count for each row of the clip's outcomes. 204 where no visit has a box.
 */
export function withinRoutes({ workspace, ports, turns }: Bench): Hono {
  return new Hono().post('/clips/:id/within', async (c) => {
    const id = c.req.param('id');
    const asked = parseJson(await c.req.text(), 'what is asked', askedSchema, 'labels');
    refuseOffFrame(asked.mask, 'within: mask');
    const { signal } = c.req.raw;
    const quiet = { ...ports, signal };
    const { camera } = await workspace.camera();
    const recording = await workspace.recording(id, quiet);
    const { labels } = checkLabels(asked.labels, recording.seconds, 'labels');
    const levels = levelsOf(camera);
    const bytes = await turns.take('reading frames', quiet, async () => {
      const mask = asked.mask ?? labels?.mask ?? [];
      const { within } = await readUnder({ ...recording, labels }, camera, mask, quiet);
      if (!within) return null;
      const rows = within.rows.frames.length;
      if (4 * rows * levels.length > MOST_BYTES) {
        throw new Problem(
          'usage',
          `${rows} frames show visits with a box, and the page holds ${MOST_BYTES / 2 ** 20} MB of what changed in them: who was caught by luck is told by 'perchmark replay'`,
        );
      }
      const columns = await within.columns(levels);
      const packed = new Uint32Array(2 + levels.length * (1 + rows));
      packed.set([rows, levels.length, ...levels]);
      for (const [i, level] of levels.entries())
        packed.set(columns.get(level)!, 2 + levels.length + i * rows);
      return packed.buffer;
    });
    return bytes === null
      ? c.body(null, 204)
      : c.body(bytes, 200, { 'Content-Type': 'application/octet-stream' });
  });
}
