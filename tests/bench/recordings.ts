import { linkSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import sharp from 'sharp';
import { smooth } from '../../src/engine/smooth.js';
import { gaussian, randomBytes } from '../engine/frames.js';

const [WIDTH, HEIGHT] = [640, 480];
/** Pictures that differ; longer clips show them again and again. */
const PICTURES = 60;
/** Where swaying foliage stands, frame by frame, in pixels. */
const SWAY = [0, 4, 6, 2, -2, -6, -4];
const NOISE = 2;

/** A folder for what a bench writes, and a way to be rid of it. */
export function scratch(): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'perchmark-bench-'));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/**
 * Writes a clip of JPEG stills, 640x480, 5 frames a second: bramble leaves all over, sensor noise over them, and the
 * left `swaying` of the frame (0 to 1) moving in the wind. Frames beyond the first 60 are hard links to those.
 */
export async function writeStills(folder: string, frames: number, swaying: number): Promise<string> {
  mkdirSync(join(folder, 'frames'), { recursive: true });
  const nameOf = (k: number) => join(folder, 'frames', `${k}.jpg`);
  const leaves = smooth(randomBytes(WIDTH * HEIGHT, 'bench leaves'), WIDTH, HEIGHT, 2);
  const random = seedrandom('bench noise');
  const noise = Float32Array.from({ length: 2 * leaves.length }, () => NOISE * gaussian(random));
  for (let k = 0; k < Math.min(frames, PICTURES); k++) {
    const drawn = draw(leaves, swaying * WIDTH, SWAY[k % SWAY.length]!, noise, random);
    await sharp(drawn, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } })
      .jpeg({ quality: 85 })
      .toFile(nameOf(k));
  }
  for (let k = PICTURES; k < frames; k++) linkSync(nameOf(k % PICTURES), nameOf(k));
  writeFileSync(join(folder, 'clip.json'), JSON.stringify({ version: 1, frames: 'frames/*.jpg', rate: 5 }));
  return folder;
}

/** One picture in colour; its noise begins somewhere in a longer row of noise. */
function draw(
  leaves: Uint8Array,
  swaying: number,
  shift: number,
  noise: Float32Array,
  random: () => number,
): Uint8ClampedArray {
  const picture = new Uint8ClampedArray(3 * leaves.length);
  let grain = Math.floor(random() * leaves.length);
  for (let y = 0, at = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++, at += 3) {
      const from = x < swaying ? (x + shift + WIDTH) % WIDTH : x;
      const value = 3 * leaves[y * WIDTH + from]! - 256 + noise[grain++]!;
      picture[at] = 0.8 * value;
      picture[at + 1] = value;
      picture[at + 2] = 0.5 * value;
    }
  }
  return picture;
}
