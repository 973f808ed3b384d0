import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import { drawMask } from '../../camera/mask.js';
import { changedRegion, largestRegion } from '../../engine/region.js';
import { levelOf } from '../../engine/triggers.js';
import { differencesAt } from '../../measure/difference-at.js';
import type { Box } from '../../report/canvas.js';
import { boxOf } from '../../report/crop.js';
import type { Bench } from '../bench.js';

/** Moments looked at in one request. */
const MOST_PLACES = 2000;

/** POST clips/ID/boxes: what changed most at some analysed frames. */
export interface BoxesAsked {
  /** Analysed frames, rising. */
  places: number[];
  /** Grey levels. */
  threshold: number;
}

/** For each of them what holds the region that counts: x, y, width, height as fractions; null where nothing changed as much. */
export interface BoxesFound {
  boxes: (Box | null)[];
}

/** What changed in a frame against its reference. */
export function differenceRoutes({ workspace, ports }: Bench): Hono {
  return new Hono()
    .get('/clips/:id/differences/:place', async (c) => {
      const { camera } = await workspace.camera();
      const clip = await workspace.recording(c.req.param('id'), ports);
      const places = checked([Number(c.req.param('place'))], clip.times.length);
      // With nothing masked: under which mask it is looked at the page knows.
      for await (const { difference } of differencesAt(clip, camera, places, null, c.req.raw.signal)) {
        // One byte a pixel at the analysis size, rows from the top.
        return c.body(Uint8Array.from(difference), 200, { 'Content-Type': 'application/octet-stream' });
      }
      throw new Problem('bad-picture', `frame ${places[0]}: cannot be read`);
    })
    .post('/clips/:id/boxes', async (c) => {
      const { camera } = await workspace.camera();
      const { width, height } = camera.analysis;
      const clip = await workspace.clip(c.req.param('id'), ports);
      const body = (await c.req.json().catch(() => null)) as Partial<BoxesAsked> | null;
      const places = checked(body?.places, clip.times.length);
      const level = levelOf(Number(body?.threshold));
      if (!(level >= 1 && level <= 255)) {
        throw new Problem('bad-field', `threshold: expected above 0 and up to 255, found ${body?.threshold}`);
      }
      const find = camera.area === 'changed' ? changedRegion : largestRegion;
      const found: BoxesFound = { boxes: [] };
      const mask = drawMask(clip.labels?.mask, camera);
      for await (const { difference } of differencesAt(clip, camera, places, mask, c.req.raw.signal)) {
        found.boxes.push(boxOf(find(difference, width, height, level)));
      }
      return c.json(found);
    });
}

function checked(places: unknown, frames: number): number[] {
  const fits = (place: unknown, i: number, all: unknown[]) =>
    Number.isInteger(place) &&
    (place as number) >= 0 &&
    (place as number) < frames &&
    (i === 0 || (place as number) > (all[i - 1] as number));
  if (Array.isArray(places) && places.length <= MOST_PLACES && places.every(fits)) return places;
  throw new Problem(
    'bad-field',
    `places: expected up to ${MOST_PLACES} rising whole numbers from 0 to ${frames - 1}`,
  );
}
