import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'recounted-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing)
  console.warn('left out: a video of which fewer frames decode, because ffmpeg is not on the PATH');

it.skipIf(missing)(
  'where fewer frames of a video decode than were promised, the run begins anew and comes to its end',
  async () => {
    const source = ['-f', 'lavfi', '-i', 'testsrc=size=64x48:rate=25', '-frames:v', '600'];
    const video = join(folder, 'v.mkv');
    execFileSync('ffmpeg', ['-v', 'error', ...source, '-c:v', 'mjpeg', '-pix_fmt', 'yuvj420p', video]);
    const bytes = readFileSync(video);
    const picture = bytes.indexOf(Buffer.from([0xff, 0xd8, 0xff]), bytes.length >> 2);
    writeFileSync(video, bytes.fill(0, picture, picture + 1000));
    writeFileSync(
      join(folder, 'settings.json'),
      '{"version":1,"threshold":20,"minimumArea":50,"cooldown":5}',
    );
    expect((await perchmark('add', 'v.mkv', 'clip')).code).toBe(0);
    const { code, out, err } = await perchmark('replay', 'clip', '--settings', 'settings.json', '--json');
    expect(err).toMatch(/note: .*v\.mkv: fewer frames decode.*promises 600.*; begun anew/);
    expect(code).toBe(0);
    // Of 25 a second the camera compares 5.
    expect(JSON.parse(out).clips[0].frames).toBe(599);
  },
);
