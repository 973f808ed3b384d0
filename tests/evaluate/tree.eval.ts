import { copyFileSync, mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { openClip } from '../../src/clip/open.js';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { Differencer } from '../../src/engine/pipeline.js';
import { luminanceFrames } from '../../src/measure/evidence.js';
import { setupFor } from '../../src/measure/weather/setup-for.js';
import { Cache } from '../../src/store/cache.js';
import { createWeather } from '../../src/weather/weather.js';
import { findFootage } from '../real/footage.js';

const HAND = 53;
const WINDOW = 16;
const levels = [10, 15, 20, 30, 40];

it('wind on real foliage: the stillest stretch of tree.avi made windy, against its liveliest', async () => {
  const footage = await findFootage();
  if ('missing' in footage) throw new Error(footage.missing);
  const folder = mkdtempSync(join(tmpdir(), 'tree-'));
  const dir = join(folder, 'tree');
  mkdirSync(dir);
  copyFileSync(footage.tree, join(dir, 'tree.avi'));
  writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'tree.avi' }));
  const cache = new Cache(join(folder, 'cache'));
  const clip = await openClip(dir, { cache });
  const { width, height } = defaultCamera.analysis;
  const frames: Uint8Array[] = [];
  const indices = Uint32Array.from({ length: HAND }, (_, i) => i);
  for await (const y of luminanceFrames(clip, indices, defaultCamera.analysis))
    frames.push(Uint8Array.from(y));
  const areas = (list: readonly Uint8Array[]) => {
    const d = new Differencer({
      ...defaultCamera.analysis,
      reference: { kind: 'previous', lag: 1 },
      mask: null,
    });
    const meter = new EvidenceMeter(width, height, 5);
    return list.map((y, k) => meter.measure(d.next(y, k)).region.slice());
  };
  const median = (rows: Uint32Array[], level: number) => {
    const sorted = rows
      .slice(1)
      .map((r) => r[level]!)
      .sort((a, b) => a - b);
    return sorted[sorted.length >> 1]!;
  };
  const real = areas(frames);
  const liveliness = (start: number) => real.slice(start + 1, start + WINDOW).reduce((n, r) => n + r[20]!, 0);
  const starts = Array.from({ length: HAND - WINDOW }, (_, i) => i);
  const still = starts.reduce((a, b) => (liveliness(b) < liveliness(a) ? b : a));
  const lively = starts.reduce((a, b) => (liveliness(b) > liveliness(a) ? b : a));
  console.log('stillest from', still, 'liveliest from', lively);
  const say = (name: string, rows: Uint32Array[]) =>
    console.log(name, levels.map((l) => `t${l}: ${median(rows, l)}`).join('  '));
  say('stillest', areas(frames.slice(still, still + WINDOW)));
  say('liveliest', areas(frames.slice(lively, lively + WINDOW)));
  for (const wind of [2, 3, 4, 5]) {
    const { setup } = await setupFor(clip, defaultCamera, { wind }, { width, height, seed: '1' });
    const weather = createWeather({ ...setup, from: { wind: 1 } });
    const blown = frames
      .slice(still, still + WINDOW)
      .map((y, k) => Uint8Array.from(weather.apply(y, clip.times[still + k]!)));
    say(`simulated ${wind}`, areas(blown));
  }
});
