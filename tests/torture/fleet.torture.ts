import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import seedrandom from 'seedrandom';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { statusSchema } from '../../src/jobs/documents/fleet.js';
import { type Command, processIn } from '../support/command.js';
import { fillUp, smallDisk } from '../support/disk.js';
import { clips, remove, resultsIn, sharedFolder, startWorker } from '../support/fleet.js';
import { hasRedis, NO_REDIS, Redis } from '../support/redis.js';

/** TORTURE_SEED repeats a campaign but for the moments of other processes, TORTURE_KILLS makes it longer or shorter. */
const seed = process.env.TORTURE_SEED ?? new Date().toISOString().slice(0, 10);
const kills = Number(process.env.TORTURE_KILLS ?? 100);
/** One blow in so many lets a worker hang instead of ending it, and one in so many is the server's. */
const HANGS = 8;
const SERVER = 15;
const WORKERS = 2;
/** Blows to one run at most: below what the queue takes one job to be what ends its workers. */
const MOST_BLOWS = 10;
const verbs = ['check', 'tune'] as const;
type Verb = (typeof verbs)[number];
/** Nobody has accepted what the suite gives. */
const CODES: Record<Verb, number> = { check: 1, tune: 0 };
/** Seconds, as short as may be. */
const LEASE = 2;
const HANG_MS = 6000;

const redis = new Redis();
let shared: string;
let perchmark: Command;
let alone: Record<Verb, string>;

if (!hasRedis) process.stdout.write(`${NO_REDIS}\n`);

beforeAll(async () => {
  if (!hasRedis) return;
  await redis.start();
  shared = await sharedFolder();
  perchmark = processIn(shared, join(shared, 'one-machine'));
  alone = {
    check: (await perchmark('check', 'suite.json', '--json')).out,
    tune: (await perchmark('tune', ...clips(), '--camera', 'camera.json', '--json')).out,
  };
});
afterAll(async () => {
  await redis.remove();
  if (hasRedis) remove(shared);
});

type Worker = ReturnType<typeof startWorker>;

/** Workers, of which those that end are started again. */
class Crew {
  readonly #workers = new Set<Worker>();
  /** What should not have been. */
  readonly wrong: string[] = [];

  /** @param mayEnd with which last line a worker may end by itself, with exit code 2 */
  constructor(
    private readonly folder: string,
    private readonly mayEnd: RegExp,
  ) {}

  refill(): void {
    while (this.#workers.size < WORKERS) this.#start();
  }

  #start(): void {
    const worker = startWorker(this.folder, redis.address, '--lease', `${LEASE}`);
    this.#workers.add(worker);
    void worker.ended.then(({ code, err }) => {
      this.#workers.delete(worker);
      const last = err.trim().split('\n').at(-1) ?? '';
      // Without --until-empty nothing but a signal ends it else.
      if (code !== -1 && !(code === 2 && this.mayEnd.test(last)))
        this.wrong.push(`a worker ended with ${code}: ${last}`);
    });
  }

  any(chance: () => number): Worker | undefined {
    return [...this.#workers][Math.floor(chance() * this.#workers.size)];
  }

  async end(): Promise<void> {
    const all = [...this.#workers];
    for (const { child } of all) child.kill('SIGKILL');
    await Promise.all(all.map(({ ended }) => ended));
  }
}

const AWAY = /the queue at .*: cannot be reached/;

/** Workers are killed and made to hang, and the server is killed, until the run has its outcome. */
async function storm(crew: Crew, chance: () => number, counts: Record<'killed' | 'hung' | 'server', number>) {
  // So many that no job is given up for having ended too many.
  for (let blows = 0; !over(shared); ) {
    crew.refill();
    await pause(100);
    if (blows === MOST_BLOWS || !isAtWork()) continue;
    await pause(chance() ** 2 * 3000);
    blows++;
    const victim = crew.any(chance);
    const blow = chance();
    if (blow < 1 / SERVER) {
      counts.server++;
      await redis.kill();
      await pause(chance() * 1000);
      await redis.start();
    } else if (blow < 1 / SERVER + 1 / HANGS) {
      counts.hung++;
      victim?.child.kill('SIGSTOP');
      setTimeout(() => victim?.child.kill('SIGCONT'), HANG_MS);
    } else {
      counts.killed++;
      victim?.child.kill('SIGKILL');
      await victim?.ended;
    }
  }
  // Whoever hung comes back with what is late by then.
  await pause(HANG_MS);
}

it.skipIf(!hasRedis)(`a fleet withstands ${kills} kills`, async () => {
  const chance = seedrandom(`fleet ${seed}`);
  const counts = { killed: 0, hung: 0, server: 0, rounds: 0 };
  const crew = new Crew(shared, AWAY);
  while (counts.killed < kills && crew.wrong.length === 0) {
    const verb = verbs[counts.rounds++ % verbs.length]!;
    await begin(verb);
    await storm(crew, chance, counts);
    crew.wrong.push(...(await wrongNow(verb)));
  }
  await crew.end();
  process.stdout.write(`fleet, seed ${seed}: ${JSON.stringify(counts)}\n`);
  expect(crew.wrong).toEqual([]);
});

it.skipIf(!hasRedis)('a fleet names a clip that cannot be read, whatever else happens', async () => {
  const chance = seedrandom(`fleet, a clip ${seed}`);
  const counts = { killed: 0, hung: 0, server: 0, rounds: 0 };
  const crew = new Crew(shared, AWAY);
  const frame = join(shared, 'clips', 'birch', 'frames', '7.png');
  const whole = readFileSync(frame);
  while (counts.killed < kills / 10 && crew.wrong.length === 0) {
    const verb = verbs[counts.rounds++ % verbs.length]!;
    writeFileSync(frame, 'no picture');
    const one =
      verb === 'check'
        ? await perchmark('check', 'suite.json', '--json')
        : await perchmark('tune', ...clips(), '--camera', 'camera.json', '--json');
    await begin(verb);
    await storm(crew, chance, counts);
    for (const { code, message, document, troubles } of await status()) {
      const named = troubles.every(({ clips: of }) => of.includes('clips/birch'));
      const asAlone = code === one.code && `perchmark: ${message}` === one.err.trim().split('\n').at(-1);
      if (!named || !asAlone || document !== null)
        crew.wrong.push(JSON.stringify({ verb, code, message, troubles }));
    }
    writeFileSync(frame, whole);
  }
  await crew.end();
  process.stdout.write(`a clip that cannot be read: ${JSON.stringify(counts)}\n`);
  expect(crew.wrong).toEqual([]);
});

const disk = hasRedis ? smallDisk('8m') : { path: null, why: NO_REDIS };
if (disk.why !== null) process.stdout.write(`${disk.why}\n`);

it.skipIf(disk.path === null)('a fleet whose disk fills up again and again loses nothing', async () => {
  const chance = seedrandom(`fleet, a disk ${seed}`);
  const folder = await sharedFolder(join(disk.path as string, 'shared'));
  const filler = join(disk.path as string, 'filler');
  const run = processIn(folder, join(shared, 'one-machine'));
  const crew = new Crew(folder, /ENOSPC/);
  let filled = 0;
  for (let round = 0; round < kills / 10 && crew.wrong.length === 0; round++) {
    const verb = verbs[round % verbs.length]!;
    redis.say('FLUSHALL');
    // The fleet keeps its name: workers of the round before go on.
    for (const made of ['results', 'kept'])
      rmSync(join(folder, 'fleet', made), { recursive: true, force: true });
    await run('fleet', 'submit', 'suite.json', '--verb', verb, ...onQueue());
    for (let blows = 0; !over(folder); ) {
      crew.refill();
      await pause(chance() * 1500);
      if (blows++ >= MOST_BLOWS) continue;
      fillUp(filler);
      filled++;
      await pause(chance() * 3000);
      rmSync(filler);
    }
    const results = Object.values(resultsIn(folder));
    // Of the same clips in another folder, whose paths within it are the same.
    if (results.length !== 1 || results[0]!.document !== alone[verb])
      crew.wrong.push(`${verb}: another document`);
  }
  await crew.end();
  process.stdout.write(`a disk that fills up: ${filled} times\n`);
  expect(crew.wrong).toEqual([]);
});

const onQueue = () => ['--queue', redis.address, '--shared', '.'];

/** The same asked again, by two at once, with nothing left of the time before. */
async function begin(verb: Verb): Promise<void> {
  redis.say('FLUSHALL');
  rmSync(join(shared, 'fleet', 'results'), { recursive: true, force: true });
  rmSync(join(shared, 'fleet', 'kept'), { recursive: true, force: true });
  const submit = ['fleet', 'submit', 'suite.json', '--verb', verb, ...onQueue()];
  const both = await Promise.all([perchmark(...submit), perchmark(...submit)]);
  expect(both.map(({ code }) => code)).toEqual([0, 0]);
}

async function status() {
  return statusSchema.parse(JSON.parse((await perchmark('fleet', 'status', '--json', ...onQueue())).out))
    .runs;
}

/** Whether the run has its outcome, or will have none. */
function over(folder: string): boolean {
  const failed = redis.say('KEYS', 'bull:*:failed');
  return failed !== '' || Object.values(resultsIn(folder)).every(({ outcome }) => outcome !== null);
}

function isAtWork(): boolean {
  return redis.say('KEYS', 'bull:*:active') !== '';
}

async function wrongNow(verb: Verb): Promise<string[]> {
  const results = Object.values(resultsIn(shared));
  const partial = readdirSync(join(shared, 'fleet', 'results'), { recursive: true, encoding: 'utf8' }).filter(
    (name) => name.endsWith('.partial'),
  );
  return [
    ...(results.length === 1 ? [] : [`${results.length} results`]),
    ...(results[0]?.document === alone[verb] ? [] : ['another document']),
    ...(await status()).flatMap(({ code, troubles }) =>
      code === CODES[verb] && troubles.length === 0 ? [] : [JSON.stringify({ code, troubles })],
    ),
    // What a killed one left unfinished goes with the next write beside it.
    ...(partial.length < 3 ? [] : partial),
  ];
}
