import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Camera } from '../../../src/camera/description.js';
import { type Clip, luminanceFrames, openClip } from '../../../src/clip/open.js';
import { luminance } from '../../../src/engine/luminance.js';
import { Cache } from '../../../src/store/cache.js';
import { keyOf } from '../../../src/store/key.js';
import { writeYardClip } from '../yard-clip.js';
import type { Day, Yard } from '../yards/yard.js';
import { type Evidence, EvidenceTaker } from './evidence.js';
import { keep, sourceKey } from './keep.js';

const sources = sourceKey('tests/evaluate/yards', 'tests/evaluate/yard-clip.ts', 'src/engine');

/** A folder that is there while something is done. */
export async function inFolder<T>(act: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'yards-'));
  try {
    return await act(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A day in a yard, written as its camera writes it and opened as the program opens it. */
export async function clipOf(yard: Yard, day: Day, folder: string, outlined = false): Promise<Clip> {
  const dir = join(folder, `wind ${day.wind}, rain ${day.rain}, light ${day.light}, ${day.again ?? ''}`);
  await writeYardClip(yard, day, dir, { outlined });
  return openClip(dir, { cache: new Cache(join(folder, 'cache')) });
}

/** All frames of a clip as the camera analyses them. */
export async function* analysed(clip: Clip, { analysis }: Camera): AsyncGenerator<Uint8Array> {
  const all = Uint32Array.from(clip.times, (_, k) => k);
  yield* luminanceFrames(clip, all, analysis);
}

/** Evidence of a day in a yard, as drawn. */
export async function drawnEvidence(yard: Yard, day: Day, camera: Camera): Promise<Evidence> {
  const key = keyOf(sources, yard.seed, yard.seconds, yard.rate, day, camera.analysis, camera.reference);
  return keep(`drawn-${yard.seed}`, key, () =>
    inFolder(async (folder) => {
      const taker = new EvidenceTaker(camera);
      let k = 0;
      for await (const y of recorded(yard, day, camera, folder)) taker.take(y, k++ / yard.rate);
      return taker.evidence;
    }),
  );
}

/** A day's frames at the analysis size, as they are after writing and reading; what is lossless need not be written. */
async function* recorded(yard: Yard, day: Day, camera: Camera, folder: string): AsyncGenerator<Uint8Array> {
  if (yard.form.kind !== 'png') return yield* analysed(await clipOf(yard, day, folder), camera);
  const { width, height } = camera.analysis;
  for (const y of yard.draw(day)) {
    yield luminance(y, 1, yard.view.width, yard.view.height, width, height);
  }
}
