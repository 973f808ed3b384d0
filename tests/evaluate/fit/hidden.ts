import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import sharp from 'sharp';
import { cameraSchema } from '../../../src/camera/description.js';
import { directReplay } from '../../../src/camera/direct-replay.js';
import { luminance } from '../../../src/engine/luminance.js';
import { type FilmPlan, filmOf } from './yard-film.js';

/** A camera that fit is not told of. */
export interface Hidden {
  name: string;
  width: number;
  height: number;
  smooth: number;
  reference: { kind: 'previous'; lag: number } | { kind: 'average'; seconds: number };
  whileBusy?: 'continues' | 'frozen' | 'restarts';
  area: 'region' | 'changed';
  threshold: number;
  minimumArea: number;
  persistence: number;
  cooldown: number;
}

/** What a camera sees otherwise than the recording beside it. */
export interface Beside {
  /** Share of the frames that it loses. */
  lost?: number;
  /** Its own lens sees this part of the picture: left, top, width, height as fractions. */
  lens?: readonly [number, number, number, number];
}

/** When hidden cameras fire at the frames of a film, all of them in one drawing; seconds. */
export function firedAt(
  plan: FilmPlan,
  hidden: readonly Hidden[],
  { lost = 0, lens }: Beside = {},
): number[][] {
  const random = seedrandom(`lost of ${plan.seed}`);
  const replays = hidden.map((one) => {
    const { width, height, smooth, reference, whileBusy = 'continues' } = one;
    const camera = cameraSchema.parse({
      version: 1,
      analysis: { width, height, smooth, rate: plan.rate },
      reference: { ...reference, whileBusy },
      area: one.area,
    });
    const { threshold, minimumArea, persistence, cooldown } = one;
    const settings = { threshold, minimumArea, mostChanged: width * height, persistence, cooldown };
    return directReplay(camera, settings, null);
  });
  const fired: number[][] = hidden.map(() => []);
  let k = 0;
  for (const frame of filmOf(plan)) {
    const time = k++ / plan.rate;
    if (random() < lost) continue;
    const seen = lens ? through(frame, plan, lens) : frame;
    hidden.forEach(({ width, height }, i) => {
      const y = luminance(seen, 1, plan.width, plan.height, width, height);
      if (replays[i]!.step(y, time)) fired[i]!.push(time);
    });
  }
  return fired;
}

function through(
  frame: Uint8Array,
  { width, height }: FilmPlan,
  [left, top, across, down]: readonly [number, number, number, number],
): Uint8Array {
  const out = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const from = Math.floor(height * (top + (down * (y + 0.5)) / height)) * width;
    for (let x = 0; x < width; x++)
      out[y * width + x] = frame[from + Math.floor(width * (left + (across * (x + 0.5)) / width))]!;
  }
  return out;
}

/** Writes a film as a clip of lossless stills. */
export async function writeFilm(dir: string, plan: FilmPlan, manifest: object = {}): Promise<string> {
  mkdirSync(join(dir, 'frames'), { recursive: true });
  const { width, height } = plan;
  let k = 0;
  let writing: Promise<unknown>[] = [];
  for (const frame of filmOf(plan)) {
    const file = join(dir, 'frames', `${String(k++).padStart(6, '0')}.png`);
    writing.push(
      sharp(frame, { raw: { width, height, channels: 1 } })
        .png({ compressionLevel: 1 })
        .toFile(file),
    );
    if (writing.length === 16) {
      await Promise.all(writing);
      writing = [];
    }
  }
  await Promise.all(writing);
  const about = { version: 1, frames: 'frames/*.png', rate: plan.rate, ...manifest };
  writeFileSync(join(dir, 'clip.json'), JSON.stringify(about));
  return dir;
}
