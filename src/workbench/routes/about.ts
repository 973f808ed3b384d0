import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { joinProject, mayJoinProject } from '../../files/join-project.js';
import { PROJECT } from '../../files/project.js';
import { type AboutSaved, type AboutState, aboutOnDisk, aboutSchema, writeAbout } from '../about-on-disk.js';
import type { Bench } from '../bench.js';
import type { Place } from '../places.js';

const writeSchema = z.strictObject({
  about: aboutSchema,
  base: z.string().describe('the revision that it stands on'),
});

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
      return c.json(await withSpot(state, place, site, project));
    });
}

/**
 * What was written, and what became of the spot.
 * @param project that the clip becomes one of, as one that is brought in does; null: none
 */
async function withSpot(
  state: AboutState,
  place: Place,
  site: string | undefined,
  project: string | null,
): Promise<AboutSaved> {
  const saved = { ...state, otherSpot: null };
  if (site === undefined) return saved;
  if (place.site !== null && site !== place.site) {
    return {
      ...saved,
      otherSpot: `The project counts this clip as one of ${quoted(place.site)}; ${quoted(site)} was not written. Change that in ${PROJECT}.`,
    };
  }
  if (project === null) return saved;
  try {
    await joinProject(project, place.path, site);
    return { ...saved, project: site };
  } catch (error) {
    // What is written stands, and may be saved again.
    if (!(error instanceof Problem)) throw error;
    return { ...saved, otherSpot: `It is not in the project yet (${error.message}). Then save again.` };
  }
}
