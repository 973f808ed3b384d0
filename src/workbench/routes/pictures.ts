import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import { jpegEncoder } from '../../clip/encode.js';
import { frames } from '../../clip/open.js';
import type { Bench } from '../bench.js';

/** Pictures of a clip as JPEG. */
export function pictureRoutes({ workspace, ports }: Bench): Hono {
  return new Hono().get('/clips/:id/frames/:frame', async (c) => {
    const clip = await workspace.recording(c.req.param('id'), ports);
    const frame = Number(c.req.param('frame'));
    if (!Number.isInteger(frame) || frame < 0 || frame >= clip.times.length) {
      throw new Problem('bad-field', `frame: expected 0 to ${clip.times.length - 1}, found ${frame}`);
    }
    const encode = await jpegEncoder();
    for await (const raw of frames(clip, [frame], { minWidth: 640, minHeight: 480 })) {
      const bytes = await encode(raw);
      return c.body(Uint8Array.from(bytes), 200, { 'Content-Type': 'image/jpeg' });
    }
    throw new Problem('bad-picture', `frame ${frame}: cannot be read`);
  });
}
