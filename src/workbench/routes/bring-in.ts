import { basename, join } from 'node:path';
import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { hint, Problem } from '../../base/problem.js';
import { quoted, short } from '../../base/text.js';
import { FASTEST, SLOWEST } from '../../camera/description.js';
import { RATE_UNKNOWN } from '../../clip/add.js';
import { manifestSchema } from '../../clip/manifest.js';
import { photosIn } from '../../clip/photo-folder.js';
import { makeFolderAtomically, mustBeFree } from '../../files/folder.js';
import { joinEvening } from '../../files/join-project.js';
import { readProject } from '../../files/project.js';
import { type Received, refuseUnplain } from '../../files/received.js';
import { isThere } from '../../files/regular.js';
import { add } from '../../jobs/add.js';
import { MOST_PHOTOS } from '../../jobs/fit/fired-given.js';
import type { OpenPorts } from '../../jobs/ports.js';
import type { Bench } from '../bench.js';
import { Coming } from '../coming.js';
import type { EveningBroughtIn } from '../evening-protocol.js';
import { marksName } from '../evenings.js';
import type { CameraFound } from '../fit-protocol.js';
import { findCamera } from '../fitting.js';
import { streamed } from '../streamed.js';
import type { Workspace } from '../workspace.js';

const wanted = z.strictObject({
  name: z.string().min(1).describe("the new clip's name"),
  video: z.boolean().describe('whether it is one video, not a folder of stills'),
  site: z.string().min(1).optional().describe('where the camera hung'),
  title: z.string().min(1).optional(),
  rate: z.number().min(SLOWEST).max(FASTEST).optional().describe('frames a second'),
  start: manifestSchema.shape.start,
  place: manifestSchema.shape.place,
  conditions: manifestSchema.shape.conditions,
});

/** What becomes of the files that were sent: POST bring-in/ID/clip. */
export type ClipWanted = z.output<typeof wanted>;

/** Result of POST bring-in/ID/clip (streamed). */
export interface BroughtIn {
  clip: string;
  frames: number;
  seconds: number;
}

const fitWanted = z.strictObject({
  clip: z.string(),
  known: z.boolean(),
  each: z.int().min(1).max(MOST_PHOTOS).optional().describe('photos a trigger'),
  photos: z.boolean().describe('whether photos were sent, not a list of times'),
});
const eveningWanted = z.strictObject({
  name: z.string().min(1).describe('the name of the new folder'),
  site: z.string().min(1).optional().describe('the spot of a project that they are of'),
});

/** Recordings from elsewhere become clips of the opened folder: their files come in pieces, then a clip is made of them, or, of photos that a camera took, a folder; or they tell when it fired. */
export function bringInRoutes(bench: Bench): Hono {
  const { workspace, ports } = bench;
  const coming = new Coming(workspace.root);
  return new Hono()
    .post('/bring-in', async (c) => {
      await refuseWhereNoneMay(workspace);
      return c.json({ id: await coming.begin() });
    })
    .put('/bring-in/:id/files/:file', async (c) => {
      const at = Number(c.req.query('at'));
      if (!Number.isSafeInteger(at) || at < 0) {
        throw new Problem('bad-field', `at: expected a whole number of bytes, found ${c.req.query('at')}`);
      }
      return coming.use(c.req.param('id'), async (files) => {
        const bytes = new Uint8Array(await c.req.arrayBuffer());
        return c.json({ size: await files.append(c.req.param('file'), at, bytes) });
      });
    })
    .delete('/bring-in/:id', async (c) => {
      await coming.end(c.req.param('id'));
      return c.json({});
    })
    .post('/bring-in/:id/clip', async (c) => {
      const id = c.req.param('id');
      const asked = parseJson(await c.req.text(), 'the new clip', wanted, 'a new clip');
      refuseUnplain(asked.name);
      refuseFileName(asked.name);
      return streamed<BroughtIn>(ports.cache, async (told) => {
        await refuseWhereNoneMay(workspace);
        const brought = await coming.use(id, (files) => madeOf(files, asked, workspace, told));
        await coming.end(id);
        return brought;
      });
    })
    .post('/bring-in/:id/evening', async (c) => {
      const id = c.req.param('id');
      const { name, site } = parseJson(
        await c.req.text(),
        'the photos',
        eveningWanted,
        'the name of a folder',
      );
      refuseUnplain(name);
      refuseFileName(name);
      return streamed<EveningBroughtIn>(ports.cache, async (told) => {
        await refuseWhereNoneMay(workspace);
        await refuseOthersMarks(workspace.root, name);
        const project = await workspace.project();
        if (project !== null && site !== undefined) await mustHaveSpot(project, site);
        const photos = await coming.use(id, (files) => keptAs(join(workspace.root, name), files, told));
        await coming.end(id);
        if (project !== null) await entered(project, join(workspace.root, name), site ?? null, told);
        return { evening: name, photos };
      });
    })
    .post('/bring-in/:id/fit', async (c) => {
      const id = c.req.param('id');
      const asked = parseJson(await c.req.text(), 'what is asked', fitWanted, 'a clip and what was sent');
      return streamed<CameraFound>(ports.cache, async (told) => {
        const found = await coming.use(id, ({ path, names }) => {
          const [only] = names;
          if (only === undefined) throw new Problem('file-missing', 'no file arrived; choose it again');
          const [fired, called] = asked.photos ? [path, 'photos'] : [join(path, only), only];
          return findCamera(bench, asked, fired, called, told);
        });
        await coming.end(id);
        return found;
      });
    });
}

async function madeOf(
  files: Received,
  { name, video, site, title, rate, start, place, conditions }: ClipWanted,
  workspace: Workspace,
  told: OpenPorts,
): Promise<BroughtIn> {
  const dir = join(workspace.root, name);
  await mustBeFree(dir);
  const [only] = files.names;
  if (only === undefined) throw new Problem('file-missing', 'no file arrived; choose the recording again');
  const recording = video ? join(files.path, only) : files.path;
  const named = (line: string) =>
    line
      .replaceAll(recording, video ? only : name)
      .replaceAll(dir, name)
      .replace(RATE_UNKNOWN, 'choose “Evenly” below, and say how many were taken a second');
  const project = site === undefined ? null : await workspace.project();
  told.onPhase('making a clip of it');
  const added = await add(
    {
      recording,
      dir,
      moves: true,
      ...(project !== null && { project }),
      ...(site !== undefined && { site }),
      ...(title !== undefined && { title }),
      ...(rate !== undefined && { rate }),
      said: {
        ...(start !== undefined && { start }),
        ...(place !== undefined && { place }),
        ...(conditions !== undefined && { conditions }),
      },
    },
    { ...told, onPhase: () => undefined, onWarning: (line) => told.onWarning(named(line)) },
  ).catch((error) => {
    throw error instanceof Problem ? new Problem(error.code, named(error.message)) : error;
  });
  return { clip: name, frames: added.frames, seconds: added.seconds };
}

/** Marks of photos that are gone would be taken for those of the new ones. @throws Problem 'file-unwritable' */
async function refuseOthersMarks(root: string, name: string): Promise<void> {
  const marks = marksName(name);
  if (!(await isThere(join(root, marks)))) return;
  throw new Problem(
    'file-unwritable',
    `${marks}: marks of another evening of this name are there; give this one another name, or move that file away`,
  );
}

/** The spots that the page offered may be others by now. @throws Problem 'usage' */
async function mustHaveSpot(project: string, site: string): Promise<void> {
  const spots = (await readProject(project)).sites.map((one) => one.site);
  if (spots.includes(site)) return;
  const there = spots.length === 0 ? 'nor any other' : `but ${spots.map(quoted).join(', ')}`;
  throw new Problem(
    'usage',
    `${basename(project)} has no spot ${quoted(site)}${hint(site, spots)}, ${there}; say again of which these are`,
  );
}

/** The photos are there whatever becomes of this. */
async function entered(project: string, folder: string, site: string | null, told: OpenPorts): Promise<void> {
  const name = basename(folder);
  try {
    if (!(await joinEvening(project, folder, site))) return;
    told.onWarning(
      `the project had an evening of a folder called ${name}, whose photos are gone; these are in its place, and its spot and its promise are not theirs`,
    );
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    told.onWarning(`${name} is here, but is not in the project yet: ${error.message}`);
  }
}

/** Puts photos into a folder of their own, which is there whole or not at all. @returns how many there are */
async function keptAs(dir: string, files: Received, told: OpenPorts): Promise<number> {
  told.onPhase('looking at the photos');
  try {
    await mustBeFree(dir);
    const { photos } = await photosIn(files.path, told);
    await makeFolderAtomically(dir, async (folder) => {
      for (const name of files.names) await folder.take(join(files.path, name), name);
    });
    return photos.length;
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    const name = basename(dir);
    throw new Problem(error.code, error.message.replaceAll(files.path, name).replaceAll(dir, name));
  }
}

/** A folder of such a name would stand where camera, labels or settings are looked for. @throws Problem 'bad-field' */
function refuseFileName(name: string): void {
  if (!/\.json$/i.test(name)) return;
  throw new Problem(
    'bad-field',
    `name: ${short(name)} is the name of a file, and a clip is a folder; leave out the ending .json`,
  );
}

/** The demo's folder may be emptied at any time, and a clip holds no clips. */
async function refuseWhereNoneMay(workspace: Workspace): Promise<void> {
  if (workspace.named === null) {
    throw new Problem(
      'usage',
      "these are the clips of the demo, whose folder may be emptied at any time; make a folder for your own and start 'perchmark open' with its name",
    );
  }
  if (await isThere(join(workspace.root, 'clip.json'))) {
    throw new Problem(
      'usage',
      "one clip by itself is open; start 'perchmark open' with the folder that is to hold your clips",
    );
  }
}
