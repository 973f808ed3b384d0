import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { setupFor } from '../../src/measure/weather/setup-for.js';
import { createWeather } from '../../src/weather/weather.js';
import { findFootage } from '../real/footage.js';
import { clipOfVideo, framesOf, levels, regionsOf, say } from './footage.js';

/** The first frame with the hand that shakes the branch. */
const HAND = 53;
const WINDOW = 16;

it('wind on real foliage: the stillest stretch of tree.avi made windy, against its liveliest', async () => {
  const footage = await findFootage();
  if ('missing' in footage) throw new Error(footage.missing);
  const folder = mkdtempSync(join(tmpdir(), 'tree-'));
  const clip = await clipOfVideo(footage.tree, folder);
  const frames = await framesOf(
    clip,
    Array.from({ length: HAND }, (_, i) => i),
  );
  const real = regionsOf(frames);
  const liveliness = (start: number) => real.slice(start + 1, start + WINDOW).reduce((n, r) => n + r[20]!, 0);
  const starts = Array.from({ length: HAND - WINDOW }, (_, i) => i);
  const still = starts.reduce((a, b) => (liveliness(b) < liveliness(a) ? b : a));
  const lively = starts.reduce((a, b) => (liveliness(b) > liveliness(a) ? b : a));
  console.log(`\n| tree.avi, frames from ${still} and ${lively} | ${levels.join(' | ')} |`);
  say('stillest, as recorded', real.slice(still, still + WINDOW));
  say('liveliest, as recorded', real.slice(lively, lively + WINDOW));
  const { width, height } = defaultCamera.analysis;
  for (const wind of [2, 3, 4, 5]) {
    const { setup } = await setupFor(clip, defaultCamera, { wind }, { width, height, seed: '1' });
    const weather = createWeather({ ...setup, from: { wind: 1 } });
    const blown = frames
      .slice(still, still + WINDOW)
      .map((y, k) => Uint8Array.from(weather.apply(y, clip.times[still + k]!)));
    say(`Beaufort ${wind}, simulated`, regionsOf(blown));
  }
  rmSync(folder, { recursive: true });
});
