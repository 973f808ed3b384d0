import { randomBytes } from 'node:crypto';
import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { printedJson } from '../../base/text.js';
import { resolveSettings, settingsSchema } from '../../camera/settings.js';
import type { Clip } from '../../clip/open.js';
import { tableOf } from '../../jobs/plan/read-forecast.js';
import { plan, planDocument } from '../../jobs/plan.js';
import { forecastOf } from '../../plan/forecast.js';
import { POLICY } from '../../report/page.js';
import { calendarOf, errandsOf } from '../../report/plan-calendar.js';
import { planReportHtml } from '../../report/plan-report.js';
import { MOST_ALLOWED } from '../../tune/goal.js';
import type { Bench } from '../bench.js';
import { clipsAsked } from '../clip-asked.js';
import type { Planned, PlanSave } from '../plan-protocol.js';
import { type FileToSave, saveInto } from '../save.js';
import { streamed } from '../streamed.js';
import { hoursAsked, photosAsked, worthAsked } from '../wanted-asked.js';

/** A month by the hour with many columns is a twentieth of it. */
const MOST_FORECAST = 2 ** 20;

const hour = z.int().min(0).max(24).describe('an hour of the day');
const askedSchema = z.strictObject({
  clips: clipsAsked,
  forecast: z.strictObject({
    name: z.string().regex(/^\P{Cc}{1,200}$/u, 'a name of up to 200 letters'),
    text: z.string().max(MOST_FORECAST),
  }),
  worth: worthAsked,
  allowance: z.strictObject({ photosPerDay: photosAsked, hoursOut: hoursAsked }).nullable(),
  walk: z.number().min(0).max(MOST_ALLOWED).describe('photos of nothing'),
  awake: z
    .strictObject({ from: hour, until: hour })
    .refine(({ from, until }) => from !== until, 'two different hours'),
  recordedOnly: z.boolean(),
  inUse: settingsSchema.nullable(),
});
const saveSchema = z.strictObject({
  what: z.enum(['calendar', 'report', 'promise']),
  replace: z.boolean(),
});

interface Kept extends Planned {
  camera: string;
}

/** The coming days: what to use when, by a forecast. */
export function planRoutes({ workspace, ports, turns }: Bench): Hono {
  // The last alone: the same can be asked for again, and is quick then.
  let last: Kept | null = null;
  const kept = (id: string): Kept => {
    if (last?.id === id) return last;
    throw new Problem('file-missing', 'this plan is not kept any more; work it out again');
  };
  return new Hono()
    .post('/plan', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is asked', askedSchema, 'clips and a forecast');
      const { name, text } = asked.forecast;
      const forecast = forecastOf(tableOf(text.replace(/^\uFEFF/, ''), name), name);
      return streamed<Planned>(ports.cache, (told) =>
        turns.take('planning the coming days', told, async () => {
          const { camera } = await workspace.camera();
          const clips: Clip[] = [];
          for (const id of asked.clips) clips.push(await workspace.clip(id, told));
          const { worth, allowance, walk, awake, recordedOnly, inUse: used } = asked;
          const inUse = used === null ? undefined : resolveSettings(used, camera, 'what is used now');
          const warnings: string[] = [];
          const result = await plan(
            {
              ...{ clips, camera, forecast, worth, walk, awake, recordedOnly, inUse },
              allowance: allowance ?? undefined,
            },
            { ...told, onWarning: (line) => warnings.push(line) },
          );
          // No number in turn: a page that outlives the server would be given another plan of the same number.
          const id = randomBytes(9).toString('base64url');
          last = { id, result, warnings, camera: camera.name };
          return { id, result, warnings };
        }),
      );
    })
    .get('/planned', (c) => {
      const { camera: _, ...planned } = last ?? { camera: null };
      return c.json(last ? planned : null);
    })
    .get('/plans/:id/report', (c) => {
      const { result, camera } = kept(c.req.param('id'));
      return c.html(planReportHtml(result, camera), 200, {
        'Content-Security-Policy': `${POLICY}; frame-ancestors 'none'`,
      });
    })
    .post('/plans/:id/save', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is asked', saveSchema, 'what to save');
      const file = fileOf(kept(c.req.param('id')), asked.what);
      return c.json(await saveInto(workspace.root, [file], asked.replace, ports));
    });
}

/** @throws Problem where there is nothing to put into a calendar */
function fileOf({ result, camera }: Kept, what: PlanSave['what']): FileToSave {
  switch (what) {
    case 'report':
      return { name: 'plan.html', content: () => planReportHtml(result, camera) };
    case 'promise':
      return {
        name: 'plan.json',
        content: () => printedJson(planDocument(result)),
      };
    case 'calendar':
      if (errandsOf(result).length > 0) return { name: 'plan.ics', content: () => calendarOf(result) };
      throw new Problem('usage', 'nothing is to be set in these days, so that a calendar would be empty');
  }
}
