import { mkdir, mkdtemp, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import seedrandom from 'seedrandom';
import sharp, { type Sharp } from 'sharp';
import { onTestFinished } from 'vitest';
import {
  type Clip,
  type FramesOptions,
  frames,
  luminanceFrames,
  type RawFrame,
} from '../../src/clip/open.js';
import { Cache } from '../../src/store/cache.js';
import { gone } from '../support/gone.js';

/** An empty folder that is gone after the test. */
export async function tempDir(): Promise<string> {
  const dir = await mkdtemp(join(tmpdir(), 'perchmark-test-'));
  onTestFinished(() => gone(dir));
  return dir;
}

export async function tempCache(): Promise<Cache> {
  return new Cache(await tempDir(), (line) => {
    throw new Error(line);
  });
}

/** A smooth coloured scene with a little noise, RGB. */
export function scene(width: number, height: number, seed = 'scene', noise = 8): Buffer {
  const random = seedrandom(seed);
  const pixels = Buffer.alloc(width * height * 3);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      for (let c = 0; c < 3; c++) {
        const value = 128 + 50 * Math.sin(x / 17 + c / 3) + 40 * Math.cos(y / 11) + noise * (random() - 0.5);
        pixels[i++] = Math.round(value);
      }
    }
  }
  return pixels;
}

export function encode(pixels: Buffer, width: number, height: number): Sharp {
  return sharp(pixels, { raw: { width, height, channels: 3 } });
}

/** A small JPEG whose content depends on the seed. */
export function jpeg(seed: string, width = 32, height = 24): Promise<Buffer> {
  return encode(scene(width, height, seed), width, height)
    .jpeg({ quality: 90 })
    .toBuffer();
}

/** Writes files (objects as JSON) below a folder; they count as changed an hour ago. */
export async function writeFiles(dir: string, files: Record<string, object | string>): Promise<void> {
  const hourAgo = Date.now() / 1000 - 3600;
  for (const [name, content] of Object.entries(files)) {
    const file = join(dir, name);
    await mkdir(dirname(file), { recursive: true });
    const plain = typeof content === 'string' || Buffer.isBuffer(content);
    await writeFile(file, plain ? content : JSON.stringify(content));
    await utimes(file, hourAgo, hourAgo);
  }
}

/** A clip folder of `count` small stills at 5 frames a second. */
export async function stillsClip(count: number, more: Record<string, object | string> = {}): Promise<string> {
  const dir = await tempDir();
  const files: Record<string, object | string> = {
    'clip.json': { version: 1, frames: 'frames/*.jpg', rate: 5 },
  };
  for (let i = 0; i < count; i++) files[`frames/${i + 1}.jpg`] = await jpeg(`still ${i}`);
  await writeFiles(dir, { ...files, ...more });
  return dir;
}

export async function read(
  clip: Clip,
  indices: ArrayLike<number> = clip.times.map((_, i) => i),
  options: FramesOptions = { minWidth: clip.width, minHeight: clip.height },
): Promise<RawFrame[]> {
  const all: RawFrame[] = [];
  for await (const frame of frames(clip, indices, options)) all.push(frame);
  return all;
}

/** Luminance of frames at some size, each in an array of its own. */
export async function readLuma(
  clip: Clip,
  indices: ArrayLike<number> = clip.times.map((_, i) => i),
  size: { width: number; height: number } = clip,
): Promise<Uint8Array[]> {
  const all: Uint8Array[] = [];
  for await (const y of luminanceFrames(clip, indices, size)) all.push(y.slice());
  return all;
}

/** BT.601 luma of one pixel. */
export function luma(frame: { pixels: Uint8Array; channels: 1 | 3 }, at: number): number {
  if (frame.channels === 1) return frame.pixels[at]!;
  const [r, g, b] = frame.pixels.subarray(at * 3, at * 3 + 3);
  return 0.299 * r! + 0.587 * g! + 0.114 * b!;
}

export function meanLumaDifference(
  a: { pixels: Uint8Array; channels: 1 | 3; width: number; height: number },
  b: { pixels: Uint8Array; channels: 1 | 3 },
): number {
  let sum = 0;
  for (let i = 0; i < a.width * a.height; i++) sum += Math.abs(luma(a, i) - luma(b, i));
  return sum / (a.width * a.height);
}
