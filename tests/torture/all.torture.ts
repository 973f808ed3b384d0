import { afterAll, expect, it } from 'vitest';
import { smallDisk } from '../support/disk.js';
import { type Kind, trial } from './campaign.js';
import { know } from './trials.js';
import { makeWorld } from './world.js';

/** TORTURE_SEED repeats a campaign, TORTURE_MINUTES makes it longer or shorter, TORTURE_KINDS leaves some kinds out. */
const seed = process.env.TORTURE_SEED ?? new Date().toISOString().slice(0, 10);
const minutes = Number(process.env.TORTURE_MINUTES ?? 10);
const only = process.env.TORTURE_KINDS?.split(',');

const disk = smallDisk('1m');
const shares: [Kind, number][] = [
  ['json', 0.3],
  ['bytes', 0.2],
  ['emptied cache', 0.15],
  ['killed', 0.2],
  ['twice', 0.05],
  ['full disk', 0.1],
];

it(`withstands ${minutes} minutes`, async () => {
  const world = await makeWorld();
  afterAll(world.remove);
  const known = await know(world);
  process.stdout.write(
    `\nSeed ${seed}. ${Object.entries(known.takes)
      .map(([name, ms]) => `${name} ${ms} ms`)
      .join(', ')}\n`,
  );
  const kinds = shares.filter(
    ([kind]) => (only ? only.includes(kind) : true) && (kind !== 'full disk' || disk.path),
  );
  if (!disk.path) process.stdout.write(`full disks: ${disk.why}\n`);
  const all = kinds.reduce((sum, [, share]) => sum + share, 0);
  const wrong: string[] = [];
  for (const [kind, share] of kinds) {
    const until = Date.now() + (minutes * 60_000 * share) / all;
    let count = 0;
    let failed = 0;
    while (Date.now() < until) {
      const done = await trial(kind, world, known, disk, `${seed} ${kind} ${count}`);
      if (done.wrong) {
        failed++;
        const line = `${kind} ${count}: ${done.what}: ${done.wrong}`;
        process.stdout.write(`  ${line}\n`);
        wrong.push(line);
      }
      count++;
    }
    process.stdout.write(`${kind}: ${count} trials, ${failed} wrong\n`);
  }
  expect(wrong).toEqual([]);
});
