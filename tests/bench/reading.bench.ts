import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { floorFor } from '../../src/camera/floor.js';
import { type Clip, frames, openClip } from '../../src/clip/open.js';
import { evidenceOf } from '../../src/measure/evidence.js';
import { Cache } from '../../src/store/cache.js';
import { measure, print, printRatio } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const FRAMES = 300;
const { width: minWidth, height: minHeight } = defaultCamera.analysis;
/** The lowest level of the camera's dial: the clips' noise stays below it. */
const FLOOR = floorFor(defaultCamera, 255);
const { folder, remove } = scratch();
afterAll(remove);

async function decodeAll(clip: Clip): Promise<number> {
  const all = Array.from(clip.times.keys());
  let sum = 0;
  for await (const { pixels } of frames(clip, all, { minWidth, minHeight })) sum += pixels[0]!;
  return sum;
}

/** Each reading into a cache of its own, so that none is spared. */
let readings = 0;
function read(clip: Clip): Promise<unknown> {
  const cache = new Cache(join(folder, `cache ${readings++}`));
  return evidenceOf(clip, defaultCamera, null, FLOOR, { cache });
}

it.each([
  { name: 'a calm clip', swaying: 0, least: 0.8 },
  { name: 'half the frame swaying', swaying: 0.5, least: 0.65 },
])('reading stills against decoding alone: $name', async ({ name, swaying, least }) => {
  const dir = await writeStills(join(folder, name), FRAMES, swaying);
  const clip = await openClip(dir, { cache: new Cache(join(folder, 'opening')) });
  const times = await measure(
    { 'decoding alone': () => decodeAll(clip), 'stills to evidence kept': () => read(clip) },
    { warmUp: 1, rounds: 7 },
  );
  print(`A still of 640x480, analysed at 320x240: ${name}`, times, FRAMES);
  const ratio = times['decoding alone'].median / times['stills to evidence kept'].median;
  printRatio('frames per second of reading / of decoding', ratio, `at least ${least}`);
  expect(ratio).toBeGreaterThanOrEqual(least);
});
