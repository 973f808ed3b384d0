import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, expect, it } from 'vitest';
import { Cache } from '../../src/store/cache.js';
import { EvidenceStore } from '../../src/store/evidence-store.js';
import { FLOOR, fineCamera, madeEvidence, madeVisits, RATE } from './made-evidence.js';
import { machine } from './measure.js';
import { scratch, writeStills } from './recordings.js';

/** More than an hour of stills, and a day of evidence. */
const STILLS = 20_000;
const DAY = 86_400 * RATE;
const MEGABYTE = 1e6;
const MOST = 400;
/** What the collector may leave lying about longer in the second half than in the first, in megabytes. */
const SLACK = 30;

const child = join(import.meta.dirname, 'memory-child.js');
const { folder, remove } = scratch();
const cacheFolder = join(folder, 'cache');
afterAll(remove);

/** Peak memory of a job in a process of its own, in megabytes. */
async function peaks(job: string, ...args: string[]): Promise<Record<string, number>> {
  const { stdout } = await promisify(execFile)(process.execPath, [child, job, cacheFolder, ...args]);
  const bytes = JSON.parse(stdout) as Record<string, number>;
  return Object.fromEntries(Object.entries(bytes).map(([name, value]) => [name, value / MEGABYTE]));
}

function printPeak(what: string, megabytes: number): void {
  process.stdout.write(`  ${what.padEnd(44)}  ${megabytes.toFixed(0).padStart(4)} MB (under ${MOST})\n`);
}

it('reading a long clip takes no more memory than reading half of it', async () => {
  const dir = await writeStills(join(folder, 'long'), STILLS, 0.5);
  const { half, whole } = await peaks('read', dir);
  process.stdout.write(`\nPeak memory, reading ${STILLS} stills of 640x480\n  ${machine()}\n`);
  printPeak('after half of them', half!);
  printPeak('after all of them', whole!);
  expect(whole).toBeLessThan(MOST);
  expect(whole! - half!).toBeLessThan(SLACK);
});

it('a sweep over a day stays within the same memory', async () => {
  const store = new EvidenceStore(new Cache(cacheFolder), 'day', DAY, FLOOR);
  const visits = madeVisits(DAY, 'day');
  for (const row of madeEvidence(DAY, visits, 'day')) await store.append(row);
  const about = { frames: DAY, floor: FLOOR, rate: RATE, visits, camera: fineCamera };
  const { whole } = await peaks('sweep', 'day', JSON.stringify(about));
  process.stdout.write(`\nPeak memory, 50,000 settings\n  ${machine()}\n`);
  printPeak(`over ${DAY} frames with ${visits.length} visits`, whole!);
  expect(whole).toBeLessThan(MOST);
});
