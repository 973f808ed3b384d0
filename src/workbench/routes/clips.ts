import { Hono } from 'hono';
import type { Bench } from '../bench.js';
import { labelsOnDisk } from '../labels-on-disk.js';
import type { ClipOpened } from '../protocol.js';
import { streamed } from '../streamed.js';
import { versionOf } from '../workspace.js';

/** Opening a clip: what it is, when its frames were taken. */
export function clipRoutes({ workspace, ports }: Bench): Hono {
  return new Hono().post('/clips/:id/open', (c) => {
    const id = c.req.param('id');
    return streamed<ClipOpened>(ports.cache, async (told) => {
      const place = await workspace.place(id);
      const clip = await workspace.recording(id, told, 'closely');
      const { width, height, seconds, rate, manifest, warnings } = clip;
      return {
        id,
        name: place.name,
        site: manifest.site ?? null,
        width,
        height,
        seconds,
        rate,
        times: [...clip.times],
        warnings: warnings.map((line) => line.replaceAll(clip.dir, place.name)),
        version: versionOf(clip),
        labels: await labelsOnDisk(place, clip),
      };
    });
  });
}
