import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { addressFrom } from '../../src/fleet/address.js';
import { openQueue } from '../../src/fleet/open-queue.js';
import { ownProgram } from '../../src/fleet/program.js';
import type { Job } from '../../src/fleet/queue.js';
import { keyOf } from '../../src/store/key.js';
import { processIn } from '../support/command.js';
import { hasRedis, NO_REDIS, Redis } from '../support/redis.js';
import { foretell } from './fleet-simulation.js';
import { machine, printRatio } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const CLIPS = 8;
/** Two minutes each. */
const FRAMES = 600;
const ROUNDS = 3;
const JOBS = 500;
/** An hour at five frames a second. */
const HOUR = 18_000;
/** Bytes a second over a cable of one gigabit, nothing else on it: assumed. */
const GIGABIT = 118e6;

const bin = fileURLToPath(new URL('../../bin/perchmark.js', import.meta.url));
const { folder, remove } = scratch();
const redis = new Redis();
const names = Array.from({ length: CLIPS }, (_, k) => `clip-${k}`);

if (!hasRedis) process.stdout.write(`${NO_REDIS}\n`);

beforeAll(async () => {
  if (!hasRedis) return;
  await redis.start();
  for (const [k, name] of names.entries()) {
    await writeStills(join(folder, name), FRAMES, k / (2 * CLIPS));
    const visits = [{ start: 10 + k, end: 20 + k }];
    writeFileSync(join(folder, name, 'labels.json'), JSON.stringify({ version: 1, visits }));
  }
  const settings = { version: 1, threshold: 24, minimumArea: 100, cooldown: 10 };
  writeFileSync(join(folder, 'suite.json'), JSON.stringify({ version: 1, clips: names, settings }));
});
afterAll(async () => {
  await redis.remove();
  remove();
});

/** Submits the suite anew and works it out with a worker on each of these cores. @returns wall seconds of the work */
async function workedOut(cores: readonly number[]): Promise<number> {
  redis.say('FLUSHALL');
  rmSync(join(folder, 'fleet'), { recursive: true, force: true });
  const perchmark = processIn(folder, join(folder, 'cache'));
  await perchmark('fleet', 'submit', 'suite.json', '--queue', redis.address, '--shared', '.');
  const words = ['fleet', 'work', '--queue', redis.address, '--shared', folder, '--until-empty'];
  const began = performance.now();
  const workers = cores.map((core) =>
    spawn('taskset', ['-c', `${core}`, process.execPath, bin, ...words], { stdio: 'ignore' }),
  );
  await Promise.all(workers.map((worker) => once(worker, 'close')));
  return (performance.now() - began) / 1000;
}

/** The job of each clip, as the queue noted it: seconds. */
async function jobSeconds(): Promise<number[]> {
  return redis
    .say('--raw', 'KEYS', 'bull:perchmark-*')
    .split('\n')
    .flatMap((key) => {
      if (!/:[0-9a-f]{64}$/.test(key) || redis.say('HGET', key, 'name') !== 'check') return [];
      const [from, to] = ['processedOn', 'finishedOn'].map((field) => Number(redis.say('HGET', key, field)));
      return [(to! - from!) / 1000];
    });
}

it.skipIf(!hasRedis)(
  'a fleet: what the queue costs, two workers against one, and a thousand cameras',
  async () => {
    const queueMs = await queueCost();
    printRatio('the queue, for each job (ms): put in, taken, its clip held, done', queueMs, 'at most 50');

    const one: number[] = [];
    const two: number[] = [];
    for (let round = 0; round < ROUNDS; round++) {
      two.push(await workedOut([0, 1]));
      one.push(await workedOut([0]));
    }
    const seconds = await jobSeconds();
    const median = (all: number[]) => all.toSorted((a, b) => a - b)[all.length >> 1]!;
    const ratio = median(one.map((alone, i) => alone / two[i]!));
    process.stdout.write(
      `\n${machine()}; one worker ${said(one)} s, two ${said(two)} s; a clip of ${FRAMES} stills ${said(seconds)} s\n`,
    );
    printRatio('work of two workers, each held to a core / of one', ratio, 'at least 1.8 on idle cores');

    const perchmark = processIn(folder, join(folder, 'fleet', 'kept'));
    const began = performance.now();
    await perchmark('check', 'suite.json', '--json');
    const writeSeconds = (performance.now() - began) / 1000 / CLIPS;
    const bytes = readdirSync(join(folder, 'clip-0', 'frames'))
      .map((name) => statSync(join(folder, 'clip-0', 'frames', name)).size)
      .reduce((sum, size) => sum + size, 0);
    const scale = HOUR / FRAMES;
    process.stdout.write(
      `simulated from that: 1,000 cameras, 24 clips of an hour each of stills of 640x480 (${Math.round(bytes / FRAMES / 1000)} kB), a folder that gives 118 MB/s (assumed), ${(1000 * writeSeconds).toFixed(0)} ms a clip for the document\n`,
    );
    for (const workers of [4, 8, 16, 32, 64, 128]) {
      for (const folderGives of [GIGABIT, 10 * GIGABIT]) {
        const { hours, machineHours, limit } = foretell({
          cameras: 1000,
          clipsEach: 24,
          jobSeconds: seconds.map((s) => s * scale),
          jobBytes: bytes * scale,
          folder: folderGives,
          queueSeconds: queueMs / 1000,
          writeSeconds,
          workers,
        });
        process.stdout.write(
          `  ${workers} cores, ${folderGives / 1e6} MB/s: ${hours.toFixed(1)} h, ${machineHours.toFixed(0)} machine hours; ${limit} limits\n`,
        );
      }
    }
    expect(queueMs).toBeLessThanOrEqual(50);
    if (cpus().length > 1) expect(ratio).toBeGreaterThanOrEqual(1.5);
  },
);

const said = (all: number[]) =>
  all
    .toSorted((a, b) => a - b)
    .map((s) => s.toFixed(1))
    .join(', ');

/** Milliseconds that a job of nothing takes from being put in to its end. */
async function queueCost(): Promise<number> {
  const program = ownProgram();
  const queue = await openQueue(await addressFrom(redis.address), 'bench', program);
  const jobs: Job[] = Array.from({ length: JOBS }, (_, k) => ({
    key: keyOf('bench', k),
    needs: [],
    payload: { kind: 'read', program, clips: [`clips/${k}`], camera: null, settings: null, run: 'bench' },
  }));
  const began = performance.now();
  await queue.submit(jobs, false);
  for (let k = 0; k < JOBS; k++) {
    const taken = (await queue.take())!;
    const hold = (await queue.hold(taken.job.payload.clips))!;
    await taken.done({ bad: null });
    await hold.release();
  }
  const ms = (performance.now() - began) / JOBS;
  await queue.close();
  return ms;
}
