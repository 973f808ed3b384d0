import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { floorFor } from '../../src/camera/floor.js';
import { openClip } from '../../src/clip/open.js';
import { diagnose } from '../../src/diagnose/diagnose.js';
import { evidenceOf } from '../../src/measure/evidence.js';
import { Cache } from '../../src/store/cache.js';
import { measure, print, printRatio } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const FRAMES = 600;
const { folder, remove } = scratch();
afterAll(remove);

it.each([
  { name: 'fires as often as its cooldown of 2 s allows', cooldown: 2 },
  { name: 'fires every 10 s', cooldown: 10 },
])('a diagnosis against reading the clip once: $name', async ({ name, cooldown }) => {
  // Half the frame sways without end, so that every frame is active and a mask could be tried on each.
  const dir = await writeStills(join(folder, name), FRAMES, 0.5);
  const visits = [20, 45, 70, 95].map((start) => ({ start, end: start + 6, type: 'animal' }));
  writeFileSync(join(dir, 'labels.json'), JSON.stringify({ version: 1, visits }));
  const cache = new Cache(join(folder, 'kept'));
  const clip = await openClip(dir, { cache });
  const settings = {
    threshold: 24,
    minimumArea: 50,
    mostChanged: 76_800,
    persistence: 1,
    cooldown,
    warnings: [],
  };
  let readings = 0;
  const nothingKept = () => ({ cache: new Cache(join(folder, `cache ${cooldown} ${readings++}`)) });
  const read = () => evidenceOf(clip, defaultCamera, null, floorFor(defaultCamera, 24), nothingKept());
  const times = await measure(
    {
      'reading to evidence': read,
      'a first diagnosis, nothing kept': () => diagnose([clip], defaultCamera, settings, nothingKept()),
      'a diagnosis, evidence kept': async () => {
        await cache.remove(['looks']);
        await diagnose([clip], defaultCamera, settings, { cache });
      },
      'the same again': () => diagnose([clip], defaultCamera, settings, { cache }),
    },
    { warmUp: 1, rounds: 5 },
  );
  print(`${FRAMES} stills of 640x480: ${name}`, times);
  const first = times['a first diagnosis, nothing kept'].median / times['reading to evidence'].median;
  printRatio('a first diagnosis, its reading included / reading', first, 'at most 1.3');
  if (cooldown >= 10) expect.soft(first).toBeLessThanOrEqual(1.3);
  const ratio = times['a diagnosis, evidence kept'].median / times['reading to evidence'].median;
  printRatio('a diagnosis / reading', ratio, 'at most 1');
  printRatio(
    'the same again / reading',
    times['the same again'].median / times['reading to evidence'].median,
    'at most 1',
  );
  expect(ratio).toBeLessThanOrEqual(1);
});
