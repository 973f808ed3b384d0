import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addressFrom } from '../../src/fleet/address.js';
import { openQueue } from '../../src/fleet/open-queue.js';
import { ownProgram, type Program } from '../../src/fleet/program.js';
import type { Queue } from '../../src/fleet/queue.js';
import { type WorkResult, workOn } from '../../src/fleet/work.js';
import { statusSchema } from '../../src/jobs/documents/fleet.js';
import { openPorts } from '../../src/jobs/ports.js';
import { Cache } from '../../src/store/cache.js';
import { type Command, commandIn, processIn } from '../support/command.js';
import { fillUp, smallDisk } from '../support/disk.js';
import {
  clips,
  remove,
  resultsIn,
  SITES,
  settings,
  sharedFolder,
  suite,
  workerInTheMidst,
} from '../support/fleet.js';
import { hasRedis, NO_REDIS, Redis } from '../support/redis.js';
import { scratch } from '../support/workbench.js';

/** Milliseconds: short, so that what is given up on is taken up again within the time of a test. */
const LEASE = 2000;
/** What does not lapse within a test, however busy the machine is. */
const HOUR = 3_600_000;
/** Of whoever takes it up, and is not to lose it on a busy machine. */
const LONGER = 10_000;

let redis: Redis;
let shared: string;
let perchmark: Command;
const opened: Queue[] = [];

if (!hasRedis) console.log(NO_REDIS);

describe.skipIf(!hasRedis)('a fleet', () => {
  beforeAll(async () => {
    redis = new Redis();
    await redis.start();
  });
  afterAll(() => redis.remove());

  beforeEach(async () => {
    shared = await sharedFolder();
    perchmark = commandIn(shared, join(shared, 'one-machine'));
  });
  afterEach(async () => {
    for (const queue of opened.splice(0)) await queue.close();
    remove(shared);
  });

  const onQueue = () => ['--queue', redis.address, '--shared', '.'];
  const submit = (...words: string[]) => perchmark('fleet', 'submit', ...words, ...onQueue());
  const status = async () => {
    const { out, code } = await perchmark('fleet', 'status', '--json', ...onQueue());
    return { ...statusSchema.parse(JSON.parse(out)), exit: code };
  };

  const fleetId = () =>
    (JSON.parse(readFileSync(join(shared, 'fleet', 'fleet.json'), 'utf8')) as { id: string }).id;

  async function queueFor(program: Program = ownProgram(), leaseMs = LONGER): Promise<Queue> {
    const queue = await openQueue(await addressFrom(redis.address), fleetId(), program, {
      leaseMs,
      onWarning: () => undefined,
    });
    opened.push(queue);
    return queue;
  }

  /** A worker in this process, until nothing is left. */
  async function worker(
    queue: Queue,
    program = ownProgram(),
    said: string[] = [],
    fleet = fleetId(),
  ): Promise<WorkResult> {
    const cache = new Cache(join(shared, 'fleet', 'kept'));
    const ports = await openPorts({ cache, onWarning: (line) => said.push(line) });
    return workOn(queue, { fleet, program, leaseMs: LONGER, untilEmpty: true, ports });
  }

  /** Workers find all paths from the folder that they share. */
  async function inShared<T>(act: () => Promise<T>): Promise<T> {
    const before = process.cwd();
    process.chdir(shared);
    try {
      return await act();
    } finally {
      process.chdir(before);
    }
  }

  const onlyResult = () => Object.values(resultsIn(shared))[0]!;

  const verbs: [string, string[], string[]][] = [
    ['check', ['suite.json'], ['check', 'suite.json']],
    ['tune', ['suite.json', '--verb', 'tune'], ['tune', ...clips(), '--camera', 'camera.json']],
    [
      'diagnose',
      ['list.txt', '--verb', 'diagnose', '--camera', 'camera.json', '--settings', 'now.json'],
      ['diagnose', ...clips(), '--camera', 'camera.json', '--settings', 'now.json'],
    ],
  ];

  it.each(verbs)('%s: two workers give what one machine gives, to the byte', async (_, asked, alone) => {
    await submit(...asked);
    const queues = [await queueFor(), await queueFor()];
    const results = await inShared(() => Promise.all(queues.map((queue) => worker(queue))));
    const one = await perchmark(...alone, '--json');
    const { document, outcome } = onlyResult();
    expect(document).toBe(one.out);
    expect(outcome).toMatchObject({ code: one.code, message: null, troubles: [] });
    expect(results.map(({ failed, lost, bad }) => failed + lost + bad)).toEqual([0, 0]);
  });

  it('does each job once where two submit the same at once, and nothing where all is done', async () => {
    const two = await Promise.all([startSubmit(), startSubmit()]);
    expect(two.map(({ code }) => code)).toEqual([0, 0]);
    const queue = await queueFor();
    expect(await queue.left()).toBe(5);
    expect(await inShared(() => worker(queue))).toMatchObject({ done: 5 });
    expect(JSON.parse((await submit('suite.json', '--json')).out)).toMatchObject({ queued: 0, ended: true });
    expect(await queue.left()).toBe(0);
  });

  /** In a process of its own, so that two run at once. */
  async function startSubmit() {
    return processIn(shared, join(shared, 'one-machine'))('fleet', 'submit', 'suite.json', ...onQueue());
  }

  it('goes on where a worker is killed in the midst of a job', async () => {
    await submit('suite.json', '--verb', 'tune');
    const mark = join(scratch(), 'reads');
    const { child, ended } = await workerInTheMidst(mark, shared, redis.address, '--lease', '2');
    const queue = await queueFor();
    const before = await queue.left();
    child.kill('SIGKILL');
    await ended;
    expect(await queue.left()).toBe(before);
    const { failed, lost } = await inShared(() => worker(queue));
    expect({ failed, lost }).toEqual({ failed: 0, lost: 0 });
    const one = await perchmark('tune', ...clips(), '--camera', 'camera.json', '--json');
    expect(onlyResult().document).toBe(one.out);
  });

  it('goes on where the server is killed and started again', async () => {
    await submit('suite.json');
    const queue = await queueFor();
    const work = inShared(() => worker(queue));
    await pause(300);
    await redis.kill();
    await pause(300);
    await redis.start();
    await work;
    expect(await queue.left()).toBe(0);
    expect(onlyResult().document).toBe((await perchmark('check', 'suite.json', '--json')).out);
  });

  it('gives the job of a worker that is not heard of to another, and its late result does no harm', async () => {
    await submit('suite.json');
    const hung = await queueFor(ownProgram(), LEASE);
    const taken = (await hung.take())!;
    const hold = (await hung.hold(taken.job.payload.clips))!;
    const queue = await queueFor();
    expect(await inShared(() => worker(queue))).toMatchObject({ done: 5, lost: 0 });
    const { document } = onlyResult();
    expect(await taken.beat(null)).toBe(false);
    expect(await hold.beat()).toBe(false);
    expect(await taken.done({ bad: 'late' })).toBe(false);
    expect((await queue.standings([taken.job.key])).get(taken.job.key)).toMatchObject({
      state: 'done',
      outcome: { bad: null },
    });
    expect(onlyResult().document).toBe(document);
  });

  it('lets go of a job that makes no progress, and another does it', async () => {
    await submit('suite.json', '--verb', 'tune');
    const stop = new AbortController();
    const said: string[] = [];
    const ports = await openPorts({
      cache: new Cache(join(shared, 'fleet', 'kept')),
      signal: stop.signal,
      onWarning: (line) => {
        said.push(line);
        if (line.includes('left to another')) stop.abort(new Error('seen'));
      },
    });
    // It looks for progress every millisecond, so that no job is over before it looked.
    const options = {
      fleet: fleetId(),
      program: ownProgram(),
      leaseMs: 3,
      untilEmpty: true,
      patienceMs: -1,
      ports,
    };
    const impatient = await queueFor(ownProgram(), LEASE);
    await expect(inShared(() => workOn(impatient, options))).rejects.toThrow('seen');
    expect(said.at(-1)).toMatch(
      /: left to another worker, because this one was not heard of, or made no progress/,
    );
    expect(await impatient.left()).toBeGreaterThan(0);
    await inShared(async () => worker(await queueFor()));
    const one = await perchmark('tune', ...clips(), '--camera', 'camera.json', '--json');
    expect(onlyResult().document).toBe(one.out);
  });

  it('lets nobody read a clip that another reads, until that one lets go or is not heard of', async () => {
    await submit('suite.json');
    const [a, b] = [await queueFor(ownProgram(), HOUR), await queueFor(ownProgram(), HOUR)];
    const first = (await a.hold(['clips/alder', 'clips/birch']))!;
    expect(await b.hold(['clips/birch', 'clips/cedar'])).toBeNull();
    expect(await b.hold(['clips/cedar'])).not.toBeNull();
    await first.release();
    expect(await b.hold(['clips/birch'])).not.toBeNull();
    expect(await a.hold(['clips/cedar'])).toBeNull();
    const silent = (await (await queueFor(ownProgram(), LEASE)).hold(['clips/elder']))!;
    while ((await a.hold(['clips/elder'])) === null) await pause(200);
    expect(await silent.beat()).toBe(false);
  });

  it('names a clip that cannot be read, does the rest, and ends as one machine does', async () => {
    writeFileSync(join(shared, 'clips', 'birch', 'frames', '7.png'), 'no picture');
    await submit('suite.json');
    const said: string[] = [];
    const queue = await queueFor();
    expect(await inShared(() => worker(queue, ownProgram(), said))).toMatchObject({ done: 3, bad: 2 });
    const one = await perchmark('check', 'suite.json', '--json');
    expect(one.code).toBe(2);
    const told = await perchmark('fleet', 'status', ...onQueue());
    expect(told.code).toBe(2);
    expect(told.err).toBe(one.err);
    expect(said.filter((line) => line.includes('clips/birch/frames/7.png'))).not.toEqual([]);
    const { runs } = await status();
    expect(runs[0]).toMatchObject({ code: 2, document: null, troubles: [{ clips: ['clips/birch'] }] });
  });

  it('refuses jobs of another version, names both, and leaves them', async () => {
    await submit('suite.json');
    const older: Program = { ...ownProgram(), version: '0.0.7', engine: 1 };
    const queue = await queueFor(older);
    const refused = await inShared(() => worker(queue, older)).catch((error: Error) => error.message);
    const { version, engine, weather } = ownProgram();
    expect(refused).toContain(`jobs of perchmark ${version} (engine ${engine}, weather ${weather})`);
    expect(refused).toContain(`this one is 0.0.7 (engine 1, weather ${weather})`);
    expect(await (await queueFor()).left()).toBe(5);
  });

  it('tells of each site what changed since the time before, worse first, and what is left', async () => {
    await submit('suite.json');
    const before = await status();
    expect(before.sites.map(({ site, change, progress }) => [site, change, progress.jobs])).toEqual([
      ['log pile', null, 2],
      ['water bowl', null, 2],
    ]);
    await inShared(async () => worker(await queueFor()));
    // From now on one of the visits at the water bowl is over before it is photographed.
    const labels = { version: 1, visits: [{ start: 0, end: 0.5 }] };
    writeFileSync(join(shared, 'clips', 'cedar', 'labels.json'), JSON.stringify(labels));
    await submit('suite.json');
    await inShared(async () => worker(await queueFor()));
    const { sites } = await status();
    expect(sites.map(({ site, change }) => [site, change])).toEqual([
      ['water bowl', 'worse'],
      ['log pile', 'same'],
    ]);
    expect(sites[0]).toMatchObject({ now: { visits: 2, missed: 1 }, before: { visits: 2, missed: 0 } });
  });

  it('writes the table of sites into a report', async () => {
    await submit('suite.json');
    await perchmark('fleet', 'status', '--report', 'sites.html', ...onQueue());
    const page = readFileSync(join(shared, 'sites.html'), 'utf8');
    for (const site of new Set(Object.values(SITES)))
      expect(page).toContain(`<th scope="row" class="text">${site}<br>`);
  });

  it('ends an idle worker whose fleet was removed and made anew, for its queue is another', async () => {
    await submit('suite.json');
    const queue = await queueFor();
    while ((await queue.left()) > 0) await (await queue.take())?.done({ bad: null });
    const before = fleetId();
    rmSync(join(shared, 'fleet'), { recursive: true });
    await submit('suite.json');
    await expect(inShared(() => worker(queue, ownProgram(), [], before))).rejects.toThrow(
      /fleet.json: expected the fleet that this worker began with, found another, .*; start the worker again$/,
    );
  });

  it('begins anew what was removed from the results', async () => {
    await submit('suite.json');
    await inShared(async () => worker(await queueFor()));
    rmSync(join(shared, 'fleet', 'results'), { recursive: true });
    await submit('suite.json');
    await inShared(async () => worker(await queueFor()));
    expect(onlyResult().outcome).not.toBeNull();
  });

  it('refuses what lies elsewhere, and a folder to which nothing was submitted', async () => {
    const elsewhere = await submit('/etc/hostname');
    expect(elsewhere.err).toMatch(
      /^perchmark: fleet submit \/etc\/hostname: expected something in the shared/,
    );
    const work = await perchmark('fleet', 'work', ...onQueue());
    expect(work.err).toMatch(/^perchmark: --shared: expected a folder to which something was submitted/);
    expect(existsSync(join(shared, 'fleet', 'results'))).toBe(false);
  });

  it('refuses clips that other machines do not see, and makes no folder of a name that is mistyped', async () => {
    writeFileSync(join(shared, 'list.txt'), `${scratch()}\n`);
    const outside = await submit('list.txt', '--verb', 'tune');
    expect(outside.err).toMatch(
      /^perchmark: list.txt: expected clips, .* found ".*", which lies elsewhere; put/,
    );
    const words = ['fleet', 'submit', 'suite.json', '--queue', redis.address, '--shared', 'shraed'];
    expect((await perchmark(...words)).err).toMatch(
      /^perchmark: --shared shraed: expected the folder that all/,
    );
    expect(existsSync(join(shared, 'shraed'))).toBe(false);
  });

  it.each([
    ['a list to check', ['list.txt'], /check: expected a suite/],
    ['a list to diagnose without settings', ['list.txt', '--verb', 'diagnose'], /^perchmark: --settings: /],
    ['a suite with a camera', ['suite.json', '--camera', 'camera.json'], /camera and the settings that the/],
  ])('refuses %s', async (_, words, line) => {
    const ran = await submit(...words);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(line);
  });

  it('submits anew where settings were changed', async () => {
    await submit('suite.json');
    writeFileSync(join(shared, 'now.json'), JSON.stringify(settings(30)));
    expect(JSON.parse((await submit('suite.json', '--json')).out)).toMatchObject({ queued: 5 });
    writeFileSync(join(shared, 'suite.json'), JSON.stringify({ ...suite(), title: 'the same clips' }));
    // Its clips are in the queue already: only its document is new.
    expect(JSON.parse((await submit('suite.json', '--json')).out)).toMatchObject({ jobs: 5, queued: 1 });
  });
});

const disk = smallDisk('6m');
if (disk.why !== null) console.log(disk.why);

describe.skipIf(!hasRedis || disk.path === null)('a fleet whose shared folder is full', () => {
  const server = new Redis();
  beforeAll(() => server.start());
  afterAll(() => server.remove());

  it('says so, leaves nothing half-written, and ends well once there is room', async () => {
    const folder = await sharedFolder(join(disk.path as string, 'shared'));
    const run = commandIn(folder, scratch());
    const onServer = ['--shared', '.', '--queue', server.address];
    const work = () => run('fleet', 'work', '--until-empty', ...onServer);
    await run('fleet', 'submit', 'suite.json', ...onServer);
    const filler = join(disk.path as string, 'filler');
    fillUp(filler);
    const full = await work();
    expect(full.code).toBe(2);
    const lines = full.err.trim().split('\n');
    expect(lines.at(0)).toMatch(/: failed here: .*ENOSPC.*: there is no space left on that disk; free some/);
    expect(lines.at(-1)).toMatch(/^perchmark: .*ENOSPC.*: there is no space left on that disk; free some/);
    const told = await run('fleet', 'status', '--json', ...onServer);
    const [state] = statusSchema.parse(JSON.parse(told.out)).runs;
    expect(state).toMatchObject({ state: 'waiting', document: null });
    expect(Object.values(resultsIn(folder))).toEqual([{ document: null, outcome: null }]);
    rmSync(filler);
    await work();
    const { document } = Object.values(resultsIn(folder))[0]!;
    expect(document).toBe((await run('check', 'suite.json', '--json')).out);
  });
});

describe.skipIf(!hasRedis)('a queue with a password', () => {
  const PASSWORD = 'sparrows-in-the-hedge';
  let guarded: Redis;
  beforeAll(async () => {
    guarded = new Redis(['--requirepass', PASSWORD]);
    await guarded.start();
  });
  afterAll(() => guarded.remove());

  it('is opened with the address in a file, and says nothing of the password where it is wrong', async () => {
    const folder = await sharedFolder();
    const run = commandIn(folder);
    const submitWith = async (address: string) => {
      writeFileSync(join(folder, 'queue'), `${address}\n`);
      return run('fleet', 'submit', 'suite.json', '--shared', '.', '--queue', 'queue', '--json');
    };
    const without = await submitWith(guarded.address);
    expect(without.err).toMatch(/: it wants a password; /);
    const wrong = await submitWith(`unix://:herons@localhost${guarded.socket}`);
    expect(wrong.err).toMatch(/: the user or the password is not the one it knows; /);
    expect(wrong.err + wrong.out).not.toContain('herons');
    const right = await submitWith(`unix://:${PASSWORD}@localhost${guarded.socket}`);
    expect(JSON.parse(right.out)).toMatchObject({ queued: 5 });
    expect(right.err + right.out).not.toContain(PASSWORD);
    remove(folder);
  });
});

it.skipIf(!hasRedis)('says where no server answers', async () => {
  const folder = await sharedFolder();
  const ran = await commandIn(folder)(
    ...['fleet', 'submit', 'suite.json', '--shared', '.', '--queue', 'unix:///tmp/no-such.sock'],
  );
  expect(ran.code).toBe(2);
  expect(ran.err).toMatch(
    /^perchmark: the queue at unix:\/\/\/tmp\/no-such.sock: cannot be reached \(ENOENT\); /,
  );
  remove(folder);
});
