import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { drawMask } from '../../camera/mask.js';
import { changedRegion, largestRegion } from '../../engine/region.js';
import { levelOf } from '../../engine/triggers.js';
import { differencesAt } from '../../measure/difference-at.js';
import type { Box } from '../../report/canvas.js';
import { boxOf } from '../../report/crop.js';
import type { Bench } from '../bench.js';
import { streamed } from '../streamed.js';

/** Moments looked at in one request. */
const MOST_PLACES = 2000;

const boxesSchema = z.strictObject({
  places: z.array(z.number()).describe('analysed frames, rising'),
  thresholds: z.array(z.array(z.number()).min(1).max(255)).describe('of each of them, grey levels'),
});

/** POST clips/ID/boxes: what changed most at some analysed frames, streamed with a `BoxFound` as a part for each. */
export type BoxesAsked = z.output<typeof boxesSchema>;

/**
 * What changed most at an analysed frame: of each threshold asked for, what holds the region that counts: x, y, width, height
 * as fractions; null where nothing changed as much.
 */
export interface BoxFound {
  place: number;
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
      const asked = parseJson(await c.req.text(), 'what is asked', boxesSchema, 'frames and a threshold');
      const places = checked(asked.places, clip.times.length);
      const levels = levelsOf(asked);
      const find = camera.area === 'changed' ? changedRegion : largestRegion;
      const mask = drawMask(clip.labels?.mask, camera);
      return streamed<null, BoxFound>(ports.cache, async ({ signal }, tell) => {
        let next = 0;
        for await (const { place, difference } of differencesAt(clip, camera, places, mask, signal)) {
          const boxes = levels[next++]!.map((level) => boxOf(find(difference, width, height, level)));
          tell({ place, boxes });
        }
        return null;
      });
    });
}

/** @throws Problem for thresholds that cannot be, or not as many as places */
function levelsOf({ places, thresholds }: BoxesAsked): number[][] {
  if (thresholds.length !== places.length) {
    throw new Problem(
      'bad-field',
      `thresholds: expected as many as places, ${places.length}, found ${thresholds.length}`,
    );
  }
  return thresholds.map((several) =>
    several.map((threshold) => {
      const level = levelOf(threshold);
      if (level >= 1 && level <= 255) return level;
      throw new Problem('bad-field', `thresholds: expected above 0 and up to 255, found ${threshold}`);
    }),
  );
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
