import { execFileSync } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Clip, luminanceFrames, openClip } from '../../src/clip/open.js';
import type { Cache } from '../../src/store/cache.js';

/**
 * The clip as a camera of this analysis size sees it, its luminance kept without loss in a new clip folder: what is
 * found in it is what is found in the recording, but large frames are decoded and reduced only once.
 */
export async function reducedClip(
  clip: Clip,
  size: { width: number; height: number },
  dir: string,
  cache: Cache,
): Promise<Clip> {
  await mkdir(dir);
  const frames: Uint8Array[] = [];
  for await (const y of luminanceFrames(
    clip,
    clip.times.map((_, k) => k),
    size,
  ))
    frames.push(y.slice());
  const raw = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${size.width}x${size.height}`, '-i', 'pipe:0'];
  const to = ['-c:v', 'rawvideo', join(dir, 'reduced.mkv')];
  execFileSync('ffmpeg', ['-v', 'error', ...raw, ...to], { input: Buffer.concat(frames) });
  const manifest = { version: 1, frames: 'reduced.mkv', times: [...clip.times] };
  await writeFile(join(dir, 'clip.json'), JSON.stringify(manifest));
  return openClip(dir, { cache });
}
