import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { FASTEST, SLOWEST } from '../../camera/description.js';
import { RATE_UNKNOWN } from '../../clip/add.js';
import { mustBeFree } from '../../files/folder.js';
import { Received, refuseUnplain } from '../../files/received.js';
import { isThere } from '../../files/regular.js';
import { add } from '../../jobs/add.js';
import type { Bench } from '../bench.js';
import { streamed } from '../streamed.js';
import type { Workspace } from '../workspace.js';

/** Recordings that may be on their way at once. */
const MOST_AT_ONCE = 4;

const wanted = z.strictObject({
  name: z.string().min(1).describe("the new clip's name"),
  video: z.boolean().describe('whether it is one video, not a folder of stills'),
  site: z.string().min(1).optional().describe('where the camera hung'),
  title: z.string().min(1).optional(),
  rate: z.number().min(SLOWEST).max(FASTEST).optional().describe('frames a second'),
});

/** What becomes of the files that were sent: POST bring-in/ID/clip. */
export type ClipWanted = z.output<typeof wanted>;

/** Result of POST bring-in/ID/clip (streamed). */
export interface BroughtIn {
  clip: string;
  frames: number;
  seconds: number;
}

/** Recordings from elsewhere become clips of the opened folder: their files come in pieces, then a clip is made of them. */
export function bringInRoutes({ workspace, ports }: Bench): Hono {
  const coming = new Map<string, Received>();
  const received = (id: string): Received => {
    const one = coming.get(id);
    if (one) return one;
    throw new Problem('file-missing', 'this recording is not on its way any more; choose it again');
  };
  const end = async (id: string) => {
    await coming.get(id)?.end();
    coming.delete(id);
  };
  return new Hono()
    .post('/bring-in', async (c) => {
      await refuseWhereNoneMay(workspace);
      if (coming.size >= MOST_AT_ONCE) {
        throw new Problem(
          'usage',
          `expected at most ${MOST_AT_ONCE} recordings at once; let one finish first`,
        );
      }
      const id = randomBytes(9).toString('base64url');
      coming.set(id, await Received.begin(workspace.root));
      return c.json({ id });
    })
    .put('/bring-in/:id/files/:file', async (c) => {
      const at = Number(c.req.query('at'));
      if (!Number.isSafeInteger(at) || at < 0) {
        throw new Problem('bad-field', `at: expected a whole number of bytes, found ${c.req.query('at')}`);
      }
      const bytes = new Uint8Array(await c.req.arrayBuffer());
      return c.json({ size: await received(c.req.param('id')).append(c.req.param('file'), at, bytes) });
    })
    .delete('/bring-in/:id', async (c) => {
      await end(c.req.param('id'));
      return c.json({});
    })
    .post('/bring-in/:id/clip', async (c) => {
      const id = c.req.param('id');
      const files = received(id);
      const { name, video, ...given } = parseJson(await c.req.text(), 'the new clip', wanted, 'a new clip');
      refuseUnplain(name);
      const dir = join(workspace.root, name);
      return streamed<BroughtIn>(ports.cache, async (told) => {
        await refuseWhereNoneMay(workspace);
        await mustBeFree(dir);
        const [only] = files.names;
        if (only === undefined)
          throw new Problem('file-missing', 'no file arrived; choose the recording again');
        const recording = video ? join(files.path, only) : files.path;
        const named = (line: string) =>
          line
            .replaceAll(recording, video ? only : name)
            .replaceAll(dir, name)
            .replace(RATE_UNKNOWN, 'say how many were taken evenly a second');
        told.onPhase('making a clip of it');
        const added = await add(
          {
            recording,
            dir,
            moves: true,
            ...(given.site !== undefined && { site: given.site }),
            ...(given.title !== undefined && { title: given.title }),
            ...(given.rate !== undefined && { rate: given.rate }),
          },
          { ...told, onPhase: () => undefined, onWarning: (line) => told.onWarning(named(line)) },
        ).catch((error) => {
          throw error instanceof Problem ? new Problem(error.code, named(error.message)) : error;
        });
        await end(id);
        return { clip: name, frames: added.frames, seconds: added.seconds };
      });
    });
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
