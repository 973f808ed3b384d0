import { randomBytes } from 'node:crypto';
import { basename, join } from 'node:path';
import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { thumbnailOf, thumbnailSide } from '../../clip/thumbnail.js';
import { nameAfter } from '../../files/names.js';
import { PROJECT, readProject } from '../../files/project.js';
import { burstAgainst, burstShown } from '../../jobs/evening/burst-shown.js';
import { goneText } from '../../jobs/evening/marks.js';
import { type EveningResult, evening } from '../../jobs/evening.js';
import { openCamera } from '../../jobs/open.js';
import { burstsOf } from '../../outing/evening/bursts.js';
import { seenWords } from '../../outing/evening/photo.js';
import { eveningReport } from '../../report/evening-report.js';
import type { Saved } from '../answer-protocol.js';
import type { Bench } from '../bench.js';
import type { EveningOpened, EveningsListed, EveningTold } from '../evening-protocol.js';
import { type EveningPlace, Evenings } from '../evenings.js';
import { marksOnDisk, writeMarks } from '../marks-on-disk.js';
import { isPromised, promisesIn } from '../promises.js';
import { saveInto } from '../save.js';
import { streamed } from '../streamed.js';
import type { Workspace } from '../workspace.js';

/** As the page calls its fields. */
const BY_FIELDS = { clock: 'The camera’s clock', from: 'Out from', until: 'Out until' };

/** Pixels of a picture that is looked at by itself. */
const LARGE = 1280;

const writeSchema = z.strictObject({
  marks: z.array(z.tuple([z.string(), z.enum(seenWords)])).describe('a photo and what is seen in it'),
  base: z.string().describe('the revision that they stand on'),
});
const reportSchema = z.strictObject({ replace: z.boolean() });
const askedSchema = z.strictObject({
  promised: z.strictObject({ file: z.string(), site: z.string().nullable() }).nullable(),
  from: z.string().max(40),
  until: z.string().max(40),
  clock: z.string().max(40),
});

/** The photos that came back in the evening: looked at, marked, and held against what was promised. */
export function eveningRoutes({ workspace, ports, turns }: Bench): Hono {
  const evenings = new Evenings(workspace);
  /** What was told last, with its photos. */
  let last: { key: string; result: EveningResult } | null = null;
  return new Hono()
    .get('/evenings', async (c) => {
      const project = await workspace.project();
      const listed: EveningsListed = {
        evenings: await evenings.list(),
        promises: workspace.named === null ? [] : await promisesIn(workspace),
        spots: project === null ? null : (await readProject(project)).sites.map(({ site }) => site),
      };
      return c.json(listed);
    })
    .post('/evenings/:id/open', (c) => {
      const id = c.req.param('id');
      return streamed<EveningOpened>(ports.cache, async (told) => {
        const place = await evenings.place(id);
        told.onPhase('looking for photos');
        const { photos, leftOut } = await evenings.look(place, told);
        for (const line of leftOut) told.onWarning(line.replaceAll(place.folder, id));
        if (place.unclearMarks !== null) {
          const file = basename(place.unclearMarks);
          told.onWarning(
            `${file}: of which evening these marks are is not known, for several folders are called alike; they are left as they are (under "marks" of an evening in ${PROJECT} it can be said)`,
          );
        }
        const { state, gone } = await marksOnDisk(place.marksFile, photos);
        if (gone > 0) told.onWarning(goneText(state.file, gone));
        const camera = await cameraOf(place, workspace);
        const times = photos.flatMap(({ time }) => time ?? []);
        return {
          id,
          photos: photos.map(({ name, time, bytes, changed }) => ({
            name,
            time,
            version: `${bytes}-${Math.round(changed)}`,
          })),
          bursts: burstsOf(
            photos.map(({ time }) => time),
            camera ? (burstAgainst(times, camera) ?? camera.burst) : burstShown(times),
          ),
          side: thumbnailSide(photos.length),
          marks: state,
        };
      });
    })
    .get('/evenings/:id/photo', async (c) => {
      const photo = await evenings.photo(c.req.param('id'), c.req.query('name') ?? '');
      const { photos } = await evenings.known(c.req.param('id'));
      const side = c.req.query('large') === undefined ? thumbnailSide(photos.length) : LARGE;
      const small = await thumbnailOf(photo, side, ports.cache);
      if (!small)
        throw new Problem('bad-picture', `${photo.name}: this photo is damaged and cannot be shown`);
      // Under an address that names the file as it was.
      return c.body(new Uint8Array(small.jpeg), 200, {
        'Content-Type': 'image/jpeg',
        'Cache-Control': 'private, max-age=3600',
      });
    })
    .get('/evenings/:id/marks', async (c) => {
      const place = await evenings.knownPlace(c.req.param('id'));
      const { photos } = await evenings.known(place.id);
      return c.json((await marksOnDisk(place.marksFile, photos)).state);
    })
    .put('/evenings/:id/marks', async (c) => {
      const asked = parseJson(await c.req.text(), 'what is sent', writeSchema, 'marks and their revision');
      const place = await evenings.knownPlace(c.req.param('id'));
      const { photos } = await evenings.known(place.id);
      const { written, ...state } = await writeMarks(
        place.marksFile,
        photos,
        new Map(asked.marks),
        asked.base,
      );
      return c.json(state, written ? 200 : 409);
    })
    .post('/evenings/:id/told', async (c) => {
      const id = c.req.param('id');
      const asked = parseJson(await c.req.text(), 'what is asked', askedSchema, 'hours and a promise');
      return streamed<EveningTold>(ports.cache, (told) =>
        turns.take('telling an evening', told, async () => {
          const place = await evenings.knownPlace(id);
          const { promised } = asked;
          if (promised && !(await isPromised(workspace, promised))) {
            throw new Problem(
              'file-missing',
              `${promised.file}: what was promised there is not there any more; choose again`,
            );
          }
          const result = await evening(
            {
              folder: place.folder,
              marks: place.marksFile,
              promised: promised
                ? { file: join(workspace.root, promised.file), site: promised.site ?? undefined }
                : undefined,
              camera: (await cameraOf(place, workspace)) ?? undefined,
              clock: said(asked.clock),
              from: said(asked.from),
              until: said(asked.until),
              called: BY_FIELDS,
            },
            told,
          );
          // No number in turn: a page that outlives the server would be given another evening of the same number.
          last = { key: randomBytes(9).toString('base64url'), result: { ...result, folder: id } };
          return { key: last.key, result: { ...last.result, all: [] } };
        }),
      );
    })
    .post('/evenings-told/:key/report', async (c) => {
      const { replace } = parseJson(await c.req.text(), 'what is asked', reportSchema, 'what to save');
      return streamed<Saved>(ports.cache, (told) =>
        turns.take('drawing a report', told, async () => {
          if (last?.key !== c.req.param('key')) {
            throw new Problem(
              'file-missing',
              'this is not kept any more; ask again what came of the evening',
            );
          }
          const { result } = last;
          const name = nameAfter(result.folder.replaceAll('/', '-'), '-evening.html');
          const file = { name, content: () => eveningReport(result, told) };
          return saveInto(workspace.root, [file], replace, told);
        }),
      );
    });
}

function said(typed: string): string | undefined {
  return typed.trim() === '' ? undefined : typed;
}

/** The camera that took them, as far as anybody described it: the common one takes as many photos as it likes. */
async function cameraOf({ camera }: EveningPlace, workspace: Workspace) {
  if (camera !== undefined) return openCamera(camera);
  const { camera: here, kept } = await workspace.camera();
  return kept ? here : null;
}
