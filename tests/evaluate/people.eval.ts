import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { setupFor } from '../../src/measure/weather/setup-for.js';
import type { Conditions } from '../../src/weather/setup.js';
import { createWeather } from '../../src/weather/weather.js';
import { findFootage } from '../real/footage.js';
import { clipOfVideo, framesOf, levels, regionsOf, say } from './footage.js';

/** Lux; nobody noted it. */
const RECORDED = 5000;
/** Every other of its ten frames a second, for twenty seconds. */
const indices = Array.from({ length: 100 }, (_, i) => 2 * i);

it('a paved square with lawns and walkers (vtest.avi): what is called foliage, what wind does to it, and dusk by its own sensor', async () => {
  const footage = await findFootage();
  if ('missing' in footage) throw new Error(footage.missing);
  const folder = mkdtempSync(join(tmpdir(), 'people-'));
  const clip = await clipOfVideo(footage.people, folder, { conditions: { wind: 1, light: RECORDED } });
  const frames = await framesOf(clip, indices);
  const { width, height } = defaultCamera.analysis;
  const prepared = (to: Conditions) => setupFor(clip, defaultCamera, to, { width, height, seed: '1' });
  const put = async (to: Conditions) => {
    const { setup } = await prepared(to);
    const weather = createWeather(setup);
    return {
      assumed: weather.assumed,
      frames: frames.map((y, k) => Uint8Array.from(weather.apply(y, clip.times[indices[k]!]!))),
    };
  };
  const { setup } = await prepared({ wind: 4 });
  const share = setup.foliage.reduce((sum, f) => sum + f / 255, 0) / setup.foliage.length;
  console.log(`\nvtest.avi: ${(100 * share).toFixed(1)} % of the picture is called foliage`);
  console.log(`| largest region in pixels, median | ${levels.join(' | ')} |`);
  say('as recorded', regionsOf(frames));
  for (const wind of [4, 6]) say(`Beaufort ${wind}, simulated`, regionsOf((await put({ wind })).frames));
  for (const light of [20, 5]) {
    const dark = await put({ light });
    say(`${light} lux, simulated`, regionsOf(dark.frames));
    if (light === 20) console.log(dark.assumed.map((line) => `- ${line}`).join('\n'));
  }
  rmSync(folder, { recursive: true });
});
