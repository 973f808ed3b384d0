import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { defaultCamera } from '../../src/camera/default.js';
import type { Manifest } from '../../src/clip/manifest.js';
import { type Clip, luminanceFrames, openClip } from '../../src/clip/open.js';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { Differencer } from '../../src/engine/pipeline.js';
import { Cache } from '../../src/store/cache.js';

/** Grey levels at which areas are told. */
export const levels = [10, 15, 20, 30, 40];

/** A video file as a clip of its own in a folder. */
export async function clipOfVideo(
  file: string,
  folder: string,
  about: Partial<Manifest> = {},
): Promise<Clip> {
  const name = basename(file);
  const dir = join(folder, name.replace(/\W/g, '-'));
  mkdirSync(dir);
  copyFileSync(file, join(dir, name));
  writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: name, ...about }));
  return openClip(dir, { cache: new Cache(join(folder, 'cache')) });
}

/** Some of a clip's frames at the default camera's analysis size. */
export async function framesOf(clip: Clip, indices: readonly number[]): Promise<Uint8Array[]> {
  const frames: Uint8Array[] = [];
  for await (const y of luminanceFrames(clip, Uint32Array.from(indices), defaultCamera.analysis)) {
    frames.push(Uint8Array.from(y));
  }
  return frames;
}

/** The largest region that changed in each frame against the one before, for every level. */
export function regionsOf(frames: readonly Uint8Array[]): Uint32Array[] {
  const { width, height } = defaultCamera.analysis;
  const differencer = new Differencer({
    ...defaultCamera.analysis,
    reference: { kind: 'previous', lag: 1 },
    mask: null,
  });
  const meter = new EvidenceMeter(width, height, 5);
  return frames.map((y, k) => meter.measure(differencer.next(y, k)).region.slice());
}

/** Prints the middle of what regions at each level are, the first frame left out: it has none before it. */
export function say(name: string, regions: readonly Uint32Array[]): void {
  const cells = levels.map((level) => {
    const sorted = regions
      .slice(1)
      .map((row) => row[level]!)
      .toSorted((a, b) => a - b);
    return sorted[sorted.length >> 1]!;
  });
  console.log(`| ${name} | ${cells.join(' | ')} |`);
}
