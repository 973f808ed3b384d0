import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import type { Look } from '../../clip/look.js';
import type { Bench } from '../bench.js';
import { Pictures } from '../pictures.js';
import { versionOf } from '../workspace.js';

/** As wide as a picture is where nobody says how wide it is shown. */
const USUAL = 1280;
const WIDEST = 8192;
/** A picture under an address that names the clip's content is always the same. */
const FOREVER = 'private, max-age=31536000, immutable';

/**
 * Pictures of a clip as JPEG: GET clips/ID/frames/N, N counting stored frames from 0, with
 * - width=W: at most so many pixels wide, never larger than stored;
 * - box=X,Y,W,H: that part only, in fractions of the frame;
 * - v=VERSION: the clip's `version` (`ClipOpened`), with which the browser may keep it.
 */
export function pictureRoutes({ workspace, ports }: Bench): Hono {
  const pictures = new Pictures();
  return new Hono().get('/clips/:id/frames/:frame', async (c) => {
    const clip = await workspace.recording(c.req.param('id'), ports);
    const frame = c.req.param('frame');
    if (!/^\d{1,9}$/.test(frame) || Number(frame) >= clip.times.length) {
      throw new Problem('bad-field', `frame: expected 0 to ${clip.times.length - 1}, found ${frame}`);
    }
    const look = { width: widthOf(c.req.query('width')), box: boxOf(c.req.query('box')) };
    const bytes = await pictures.picture(clip, Number(frame), look, c.req.raw.signal);
    const keep = c.req.query('v') === versionOf(clip) ? FOREVER : 'no-store';
    return c.body(Uint8Array.from(bytes), 200, { 'Content-Type': 'image/jpeg', 'Cache-Control': keep });
  });
}

function widthOf(given: string | undefined): number {
  if (given === undefined) return USUAL;
  const width = Number(given);
  if (/^\d{1,4}$/.test(given) && width >= 1 && width <= WIDEST) return width;
  throw new Problem('bad-field', `width: expected 1 to ${WIDEST} pixels, found ${given}`);
}

function boxOf(given: string | undefined): Look['box'] {
  if (given === undefined) return null;
  const [x = -1, y = -1, w = -1, h = -1, ...more] = given.split(',').map(numberOf);
  const fits = x >= 0 && y >= 0 && w > 0 && h > 0 && x + w <= 1.0001 && y + h <= 1.0001;
  if (fits && more.length === 0) return [x, y, w, h];
  throw new Problem(
    'bad-field',
    `box: expected x,y,width,height as fractions of the frame within it, found ${given}`,
  );
}

function numberOf(text: string): number {
  return /^\d*\.?\d+(e-?\d+)?$/.test(text) ? Number(text) : Number.NaN;
}
