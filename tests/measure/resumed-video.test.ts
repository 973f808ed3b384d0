import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { openClip } from '../../src/clip/open.js';
import { evidenceOf } from '../../src/measure/evidence.js';
import { tempCache, tempDir, writeFiles } from '../clip/fixtures.js';
import { smallCamera } from '../support/clips.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing)
  console.warn('left out: a video whose reading was interrupted, because ffmpeg is not on the PATH');

const camera = cameraSchema.parse(smallCamera);

test.skipIf(missing)(
  'evidence of a video whose reading was interrupted is that of one that was not',
  async () => {
    const dir = await tempDir();
    const film = [
      '-f',
      'lavfi',
      '-i',
      'testsrc2=size=128x96:rate=5,noise=alls=9:allf=t:all_seed=2',
      '-frames:v',
      '1300',
    ];
    const coding = ['-pix_fmt', 'yuv420p', '-c:v', 'libx264', '-preset', 'veryfast', '-g', '50'];
    execFileSync('ffmpeg', ['-v', 'error', ...film, ...coding, join(dir, 'v.mp4')]);
    await writeFiles(dir, { 'clip.json': { version: 1, frames: 'v.mp4' } });
    const [interrupted, whole] = [await tempCache(), await tempCache()];
    const stop = new AbortController();
    const clip = await openClip(dir, { cache: interrupted });
    const stopping = {
      cache: interrupted,
      signal: stop.signal,
      onProgress: (k: number) => k === 1100 && stop.abort(),
    };
    await expect(evidenceOf(clip, camera, null, 5, stopping)).rejects.toThrow(/abort/);

    const read: number[] = [];
    const going = { cache: interrupted, onProgress: (k: number) => read.push(k) };
    const resumed = await evidenceOf(clip, camera, null, 5, going);
    // Two chunks of 512 frames were finished.
    expect(read[0]).toBe(1025);
    const straight = await evidenceOf(clip, camera, null, 5, { cache: whole });
    expect(await resumed.bothColumns([5, 20, 60])).toEqual(await straight.bothColumns([5, 20, 60]));
  },
);
