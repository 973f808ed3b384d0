import { type Context, Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { resolveSettings, settingsSchema } from '../../camera/settings.js';
import type { OpenPorts } from '../../jobs/ports.js';
import { POLICY } from '../../report/page.js';
import type { Saved } from '../answer-protocol.js';
import { answersOf } from '../answers.js';
import type { Bench } from '../bench.js';
import { checkName, saveInto } from '../save.js';
import { streamed } from '../streamed.js';

const answerSchema = z.strictObject({
  what: z.enum(['settings', 'card', 'report', 'promise']),
  replace: z.boolean(),
});
const namedSchema = z.strictObject({ name: z.string(), settings: settingsSchema, replace: z.boolean() });

/** Taking the answer along: files in the opened folder, and pages to look at or to print. */
export function saveRoutes({ workspace, ports, turns }: Bench): Hono {
  const answers = answersOf(workspace);
  const shown = async (c: Context, draw: (told: OpenPorts) => Promise<string>) => {
    const { signal } = c.req.raw;
    const told = { ...ports, signal };
    const text = await turns.take('drawing a report', told, () => draw(told));
    // What the page's own policy forbids, a report needs: its styles stand in it. It has no scripts, and asks for nothing.
    return c.html(text, 200, { 'Content-Security-Policy': `${POLICY}; frame-ancestors 'none'` });
  };
  return new Hono()
    .get('/answers/:id/report', (c) => shown(c, (told) => answers.report(c.req.param('id'), told)))
    .get('/answers/:id/card/:site', (c) =>
      shown(c, (told) => answers.card(c.req.param('id'), Number(c.req.param('site')), told)),
    )
    .post('/answers/:id/save', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is asked', answerSchema, 'what to save');
      return streamed<Saved>(ports.cache, (told) =>
        turns.take('saving an answer', told, async () => {
          const files = answers.files(c.req.param('id'), asked.what, told);
          return saveInto(workspace.root, files, asked.replace, told);
        }),
      );
    })
    .post('/settings', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is asked', namedSchema, 'settings and their name');
      checkName(asked.name);
      const { camera } = await workspace.camera();
      resolveSettings(asked.settings, camera, asked.name);
      const file = {
        name: `${asked.name}.json`,
        content: () => `${JSON.stringify(asked.settings, null, 2)}\n`,
      };
      return c.json(await saveInto(workspace.root, [file], asked.replace, ports));
    });
}
