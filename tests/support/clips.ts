import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import sharp from 'sharp';

/** A square that moves over a noisy ground, frame by frame; null where it is not there. */
export type Path = (frame: number) => { x: number; y: number; size: number; level: number } | null;

export const small = { width: 64, height: 48 };

/** Grey frames of a still ground with seeded noise, and a square on a path. */
export function drawFrames(frames: number, path: Path, seed: string, noise = 3): Uint8Array[] {
  const { width, height } = small;
  const random = seedrandom(seed);
  return Array.from({ length: frames }, (_, k) => {
    const grey = new Uint8Array(width * height);
    for (let i = 0; i < grey.length; i++) grey[i] = 100 + Math.round((random() - 0.5) * 2 * noise);
    const square = path(k);
    if (square) {
      for (let y = square.y; y < Math.min(height, square.y + square.size); y++) {
        for (let x = square.x; x < Math.min(width, square.x + square.size); x++)
          grey[y * width + x] = square.level;
      }
    }
    return grey;
  });
}

/** Writes a clip folder of lossless stills, so that what is read is what was drawn. */
export async function writeClip(
  dir: string,
  frames: readonly Uint8Array[],
  labels: object | null,
  manifest: object = { rate: 5 },
): Promise<string> {
  mkdirSync(join(dir, 'frames'), { recursive: true });
  const write = (grey: Uint8Array, k: number) =>
    sharp(grey, { raw: { ...small, channels: 1 } })
      .png()
      .toFile(join(dir, 'frames', `${k}.png`));
  await Promise.all(frames.map(write));
  writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'frames/*.png', ...manifest }));
  if (labels) writeFileSync(join(dir, 'labels.json'), JSON.stringify(labels));
  return dir;
}

/** A camera that looks at such clips, with few dial positions. */
export const smallCamera = {
  version: 1,
  name: 'small camera',
  analysis: { ...small, rate: 5, smooth: 1 },
  reference: { kind: 'previous', lag: 1 },
  shutterLag: 0.4,
  controls: {
    sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [60, 4] },
    minimumArea: { sets: 'minimumArea', choices: [4, 16, 64] },
    cooldown: { sets: 'cooldown', choices: [1, 4] },
  },
};
