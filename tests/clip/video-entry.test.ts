import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { entryBefore } from '../../src/clip/video-entry.js';
import { readLuma, tempCache, tempDir, writeFiles } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: entering videos in the middle, because ffmpeg is not on the PATH');

const FRAMES = 400;

async function clipOf(name: string, output: string[]): Promise<Clip> {
  const dir = await tempDir();
  const source = 'testsrc2=size=96x54:rate=10,noise=alls=20:allf=t:all_seed=5';
  const args = ['-v', 'error', '-y', '-f', 'lavfi', '-i', source, '-frames:v', String(FRAMES)];
  execFileSync('ffmpeg', [...args, '-pix_fmt', 'yuv420p', ...output, join(dir, name)], { stdio: 'pipe' });
  await writeFiles(dir, { 'clip.json': { version: 1, frames: name } });
  return openClip(dir, { cache: await tempCache() });
}

/** The entry for frame 330, as the clip has it. */
async function entryOf(clip: Clip): Promise<number> {
  if (clip.source.kind !== 'video') throw new Error('expected a video');
  const { source, width, height, keyFrames } = clip;
  return entryBefore({ source, width, height, keyFrames }, 330);
}

const h264 = ['-c:v', 'libx264', '-bf', '3'];

describe.skipIf(missing)('a video entered in the middle', () => {
  test.each<[string, string, string[], number | null]>([
    ['H.264 in MP4', 'v.mp4', [...h264, '-g', '50'], 300],
    ['H.264 in Matroska, beginning late', 'v.mkv', [...h264, '-g', '50', '-output_ts_offset', '7.3'], 300],
    ['open groups', 'v.mp4', [...h264, '-g', '50', '-x264-params', 'open-gop=1'], null],
    ['refreshed bit by bit', 'v.mp4', [...h264, '-x264-params', 'keyint=50:intra-refresh=1'], null],
    ['a transport stream', 'v.ts', [...h264, '-g', '50'], null],
    ['HEVC', 'v.mp4', ['-c:v', 'libx265', '-x265-params', 'log-level=none:keyint=50'], null],
    ['pictures each by itself', 'v.avi', ['-c:v', 'mjpeg', '-q:v', '2'], 330],
    ['one key frame', 'v.mp4', [...h264, '-g', '999'], 0],
  ])('gives the same as from its start: %s', async (_, name, output, expected) => {
    const clip = await clipOf(name, output);
    const entry = await entryOf(clip);
    if (expected !== null) expect(entry).toBe(expected);
    const all = await readLuma(clip, undefined, { width: 48, height: 27 });
    const last = Array.from({ length: FRAMES - 330 }, (_, i) => 330 + i);
    for (const indices of [last, [330, 335, 340, 391], last.filter((k) => k % 2 === 0)]) {
      const seen = await readLuma(clip, indices, { width: 48, height: 27 });
      expect(seen.map((y) => Buffer.from(y))).toEqual(indices.map((k) => Buffer.from(all[k]!)));
    }
  });

  test('is not where little is spared', async () => {
    const clip = await clipOf('v.mp4', [...h264, '-g', '50']);
    if (clip.source.kind !== 'video') throw new Error('expected a video');
    expect(await entryBefore({ ...clip, source: clip.source }, 240)).toBe(0);
  });
});
