import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openClip } from '../../src/clip/open.js';
import { luma, read, tempCache, tempDir } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: what containers may lead to, because ffmpeg is not on the PATH');

/** Writes five frames of one grey. */
function film(file: string, level: number): string {
  const colour = `color=c=0x${level.toString(16).repeat(3)}:size=64x48:rate=5:duration=1`;
  execFileSync('ffmpeg', ['-v', 'error', '-y', '-f', 'lavfi', '-i', colour, '-c:v', 'mpeg4', file]);
  return file;
}

/** Outside of every clip: a film of white. */
const top = mkdtempSync(join(tmpdir(), 'containers-'));
const outside = join(top, 'outside.mp4');
beforeAll(() => missing || film(outside, 0xff));
afterAll(() => rmSync(top, { recursive: true }));

/** A clip folder whose frames are one file. */
async function clipOf(name: string): Promise<{ dir: string; file: string }> {
  const dir = await tempDir();
  writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: name, rate: 5 }));
  return { dir, file: join(dir, name) };
}

const open = async (dir: string) => openClip(dir, { cache: await tempCache() });

const playlist = (path: string) =>
  `#EXTM3U\n#EXT-X-VERSION:3\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\n${path}\n#EXT-X-ENDLIST\n`;
const manifest = (path: string) =>
  `<?xml version="1.0"?><MPD xmlns="urn:mpeg:dash:schema:mpd:2011" type="static" mediaPresentationDuration="PT1S" minBufferTime="PT1S" profiles="urn:mpeg:dash:profile:isoff-main:2011"><Period><AdaptationSet mimeType="video/mp4"><Representation id="1" bandwidth="1" width="64" height="48"><BaseURL>${path}</BaseURL></Representation></AdaptationSet></Period></MPD>`;

describe.skipIf(missing)('a file that only leads to another', () => {
  it.each([
    ['a playlist', 'hls', playlist],
    ['a list of files', 'concat', (path: string) => `ffconcat version 1.0\nfile '${path}'\n`],
    ['a list of files beside it', 'concat', () => "ffconcat version 1.0\nfile 'other.mp4'\n"],
    ['a manifest', 'dash', manifest],
  ])('%s is refused, whatever it is called', async (_, kind, written) => {
    for (const name of ['a.mp4', 'a.mkv']) {
      const { dir, file } = await clipOf(name);
      writeFileSync(file, written(outside));
      const error = await open(dir).catch((e) => e);
      expect(error).toMatchObject({ name: 'Problem', code: 'bad-video' });
      expect(error.message).toContain(`${file}: its content is of the kind "${kind}"`);
    }
  });

  it('is refused as a part of a QuickTime file: what it says lies elsewhere is not fetched', async () => {
    const { dir, file } = await clipOf('a.mov');
    const own = film(join(top, 'own.mov'), 0x11);
    writeFileSync(file, referring(readFileSync(own), outside));
    const frames = await open(dir).then(read, () => []);
    expect(frames.filter((frame) => luma(frame, 0) > 100)).toEqual([]);
  });
});

describe.skipIf(missing)('a recording that holds its frames itself', () => {
  it.each(['a.mp4', 'a.mkv', 'a.avi', 'a.ts', 'a.mpg', 'a.mov'])('%s is read', async (name) => {
    const { dir, file } = await clipOf(name);
    film(file, 0x11);
    expect((await open(dir)).times.length).toBe(5);
  });

  it.each(['-i', 'pipe:0', 'concat:a|b', 'file:x', 'ab:c.mkv', '%03d.mkv', "a'b;c$.mkv"])(
    'is read under the name %s',
    async (name) => {
      const { dir, file } = await clipOf(name);
      copyFileSync(outside, file);
      expect((await open(dir)).times.length).toBe(5);
    },
  );
});

/** The same QuickTime file, saying that its data lie in another: an alias in place of "in this very file". */
function referring(movie: Buffer, path: string): Buffer {
  const at = movie.indexOf('dref') - 4;
  const name = Buffer.from(`outside${path}`);
  // A Macintosh alias record as ffmpeg reads it: volume, name and levels in 150 bytes, then an absolute path (type 2).
  const alias = Buffer.alloc(150);
  alias.writeUInt8(7, 10);
  alias.write('outside', 11, 'latin1');
  alias.writeUInt8(11, 50);
  alias.write('outside.mp4', 51, 'latin1');
  alias.writeInt16BE(1, 130);
  alias.writeInt16BE(1, 132);
  const field = Buffer.alloc(4 + name.length + (name.length & 1));
  field.writeInt16BE(2, 0);
  field.writeInt16BE(name.length, 2);
  name.copy(field, 4);
  const body = Buffer.concat([alias, field, Buffer.from([0xff, 0xff, 0, 0])]);
  const entry = Buffer.concat([Buffer.alloc(12), body]);
  entry.writeUInt32BE(entry.length, 0);
  entry.write('alis', 4, 'latin1');
  const old = movie.readUInt32BE(at + 16);
  const out = Buffer.concat([movie.subarray(0, at + 16), entry, movie.subarray(at + 16 + old)]);
  // Every box around it grows by the same.
  for (const box of ['moov', 'trak', 'mdia', 'minf', 'dinf', 'dref']) {
    const start = out.lastIndexOf(box, at + 8) - 4;
    out.writeUInt32BE(out.readUInt32BE(start) + entry.length - old, start);
  }
  return out;
}
