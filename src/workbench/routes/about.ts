import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { joinProject, mayJoinProject } from '../../files/join-project.js';
import { aboutOnDisk, aboutSchema, writeAbout } from '../about-on-disk.js';
import type { Bench } from '../bench.js';

const writeSchema = z.strictObject({
  about: aboutSchema,
  base: z.string().describe('the revision that it stands on'),
});

/** PUT api/clips/ID/about */
export type AboutWrite = z.output<typeof writeSchema>;

/** When, where and in what weather a clip was recorded: to be read, and to be said or put right after it was brought in. */
export function aboutRoutes({ workspace }: Bench): Hono {
  return new Hono()
    .get('/clips/:id/about', async (c) => c.json(await aboutOnDisk(await workspace.place(c.req.param('id')))))
    .put('/clips/:id/about', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is sent', writeSchema, 'what is said of a clip');
      const place = await workspace.place(c.req.param('id'));
      const { site } = asked.about;
      const project = place.kind === 'folder' && place.site === null ? await workspace.project() : null;
      if (project !== null && site !== undefined) await mayJoinProject(project, place.path, site);
      const { written, ...state } = await writeAbout(place, asked.about, asked.base);
      if (!written) return c.json(state, 409);
      if (project === null || site === undefined) return c.json(state);
      // A clip beside those of a project becomes one of the spot, as one that is brought in does.
      await joinProject(project, place.path, site);
      return c.json({ ...state, project: site });
    });
}
