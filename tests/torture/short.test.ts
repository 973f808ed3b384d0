import { afterAll, beforeAll, expect, it } from 'vitest';
import { smallDisk } from '../support/disk.js';
import { type Kind, trial } from './campaign.js';
import { type Known, know } from './trials.js';
import { makeWorld, type World } from './world.js';

/** A sample of what `npm run torture` does for longer: always the same trials, but for the moments of other processes. */
const disk = smallDisk('1m');
let world: World;
let known: Known;
beforeAll(async () => {
  world = await makeWorld();
  known = await know(world);
});
afterAll(() => world.remove());

const sample: [Kind, number][] = [
  ['json', 60],
  ['bytes', 60],
  ['emptied cache', 4],
  ['killed', 4],
  ['twice', 1],
  ['full disk', 5],
];

it.each(sample)('withstands %s, %i times', async (kind, count) => {
  if (kind === 'full disk' && !disk.path) {
    console.log(disk.why);
    return;
  }
  const wrong: string[] = [];
  for (let i = 0; i < count; i++) {
    const done = await trial(kind, world, known, disk, `short ${kind} ${i}`);
    if (done.wrong) wrong.push(`${i}: ${done.what}: ${done.wrong}`);
  }
  expect(wrong).toEqual([]);
});
