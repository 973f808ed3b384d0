import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
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
  /** Of the clip's frames; left out: all. */
  rate?: number;
}

/** When hidden cameras fire at the frames of a film, all of them in one drawing; seconds. */
export function firedAt(plan: FilmPlan, hidden: readonly Hidden[]): number[][] {
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
    hidden.forEach(({ width, height, rate }, i) => {
      if (rate !== undefined && (k - 1) % Math.round(plan.rate / rate) !== 0) return;
      const y = luminance(frame, 1, plan.width, plan.height, width, height);
      if (replays[i]!.step(y, time)) fired[i]!.push(time);
    });
  }
  return fired;
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
