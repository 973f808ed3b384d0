import { readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
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
import { type Taken, taken } from './processor.js';
import { scratch, writeStills } from './recordings.js';

const CLIPS = 8;
/** Sixteen minutes each, that what is not shared out (a start, the document that one worker writes) is small beside the reading. */
const FRAMES = 4800;
const ROUNDS = 2;
/** They take six minutes on idle cores. */
const TIMEOUT_MS = 3_600_000;
const JOBS = 500;
/** Load below which the cores are taken to be idle. */
const IDLE = 0.5;
/** Frames of an hour at five a second. */
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

it.skipIf(!hasRedis)(
  'what a queue costs, two workers against one, a thousand cameras',
  async () => {
    const idle = loadavg()[0]! < IDLE;
    const queueMs = await queueCost();
    printRatio('the queue, for each job (ms): put in, taken, its clip held, done', queueMs, 'at most 50');

    const one: Taken[] = [];
    const two: Taken[] = [];
    for (let round = 0; round < ROUNDS; round++) {
      two.push(await workedOut([0, 1]));
      one.push(await workedOut([0]));
    }
    process.stdout.write(`\n${machine()}, load ${loadavg()[0]!.toFixed(0)}; seconds:\n`);
    for (const of of ['wall', 'processor'] as const) {
      process.stdout.write(`  ${of}: one worker ${said(one, of)}; two ${said(two, of)}\n`);
    }
    const faster = least(one, 'wall') / least(two, 'wall');
    printRatio('wall time of one worker / of two, each held to a core', faster, 'at least 1.8 on idle cores');
    const dearer = least(two, 'processor') / least(one, 'processor');
    printRatio('processor time of two workers together / of one', dearer, 'at most 1.3');

    foretellAll(queueMs / 1000, least(one, 'processor') / 1000 / CLIPS);
    expect(queueMs).toBeLessThanOrEqual(50);
    expect(dearer).toBeLessThanOrEqual(1.3);
    // With other work on the cores wall time says nothing.
    if (idle && cpus().length > 1) expect(faster).toBeGreaterThanOrEqual(1.8);
  },
  TIMEOUT_MS,
);

const said = (all: readonly Taken[], of: keyof Taken) =>
  all.map((one) => (one[of] / 1000).toFixed(1)).join(', ');
const least = (all: readonly Taken[], of: keyof Taken) => Math.min(...all.map((one) => one[of]));

/** Submits the suite anew and works it out with a worker on each of these cores. */
async function workedOut(cores: readonly number[]): Promise<Taken> {
  redis.say('FLUSHALL');
  rmSync(join(folder, 'fleet'), { recursive: true, force: true });
  const perchmark = processIn(folder, join(folder, 'cache'));
  await perchmark('fleet', 'submit', 'suite.json', '--queue', redis.address, '--shared', '.');
  const words = `fleet work --queue ${redis.address} --shared ${folder} --until-empty`;
  const workers = cores.map((core) => `taskset -c ${core} ${process.execPath} ${bin} ${words} 2>/dev/null &`);
  return taken(['bash', '-c', `${workers.join(' ')} wait`]);
}

/** Milliseconds that a job of nothing takes from being put in to its end. */
async function queueCost(): Promise<number> {
  const program = ownProgram();
  const queue = await openQueue(await addressFrom(redis.address), 'bench', program, {
    onWarning: (line) => console.log(line),
  });
  const jobs: Job[] = Array.from({ length: JOBS }, (_, k) => ({
    key: keyOf('bench', k),
    needs: [],
    payload: {
      kind: 'read',
      program,
      clips: [`clips/${k}`],
      seen: [],
      camera: null,
      settings: null,
      site: null,
      run: 'bench',
    },
  }));
  const began = performance.now();
  await queue.submit(jobs, 'leave');
  for (let k = 0; k < JOBS; k++) {
    const job = (await queue.take())!;
    const hold = (await queue.hold(job.job.payload.clips))!;
    await job.done({ bad: null });
    await hold.release();
  }
  const ms = (performance.now() - began) / JOBS;
  await queue.close();
  return ms;
}

/**
 * Prints what a thousand cameras would take, simulated from what was measured here.
 * @param job processor seconds of a clip of FRAMES frames, its worker's start and its share of the document included
 */
function foretellAll(queueSeconds: number, job: number): void {
  const scale = HOUR / FRAMES;
  // What is kept of the last round is what the document is written from.
  const started = taken([process.execPath, bin, 'check', '--help']).processor;
  const kept = { PERCHMARK_CACHE: join(folder, 'fleet', 'kept') };
  const check = `${process.execPath} ${bin} check ${join(folder, 'suite.json')} || true`;
  const again = taken(['bash', '-c', check], kept).processor;
  const writeSeconds = (scale * Math.max(0, again - started)) / 1000 / CLIPS;
  const stills = join(folder, 'clip-0', 'frames');
  const sizes = readdirSync(stills).map((name) => statSync(join(stills, name)).size);
  const bytes = sizes.reduce((sum, size) => sum + size, 0);
  process.stdout.write(
    `simulated: 1,000 cameras, 24 clips of an hour each of stills of 640x480 (${Math.round(bytes / FRAMES / 1000)} kB); ${(scale * job).toFixed(0)} s of a processor a clip (drawn from within a third of that), ${writeSeconds.toFixed(2)} s for its part of the document, as measured on ${FRAMES} frames and scaled; what the folder gives is assumed\n`,
  );
  for (const workers of [4, 8, 16, 32, 64, 128]) {
    for (const folderGives of [GIGABIT, 10 * GIGABIT]) {
      const { hours, machineHours, limit } = foretell({
        cameras: 1000,
        clipsEach: 24,
        jobSeconds: [2 / 3, 1, 4 / 3].map((part) => part * scale * job),
        jobBytes: bytes * scale,
        folder: folderGives,
        queueSeconds,
        writeSeconds,
        workers,
      });
      process.stdout.write(
        `  ${workers} cores, ${folderGives / 1e6} MB/s: ${hours.toFixed(1)} h, ${machineHours.toFixed(0)} machine hours; ${limit} limits\n`,
      );
    }
  }
}
