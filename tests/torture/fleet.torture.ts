import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import seedrandom from 'seedrandom';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { statusSchema } from '../../src/jobs/documents/fleet.js';
import { type Command, processIn } from '../support/command.js';
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

it.skipIf(!hasRedis)(`a fleet withstands ${kills} kills`, async () => {
  const chance = seedrandom(`fleet ${seed}`);
  const counts = { killed: 0, hung: 0, server: 0, rounds: 0 };
  const wrong: string[] = [];
  const workers = new Set<ReturnType<typeof start>>();
  const start = () => {
    const worker = startWorker(shared, redis.address, '--lease', `${LEASE}`);
    void worker.ended.then(({ code, err }) => {
      workers.delete(worker);
      // Without --until-empty nothing but a signal ends it, or that the server was away when it was started.
      const away = code === 2 && /the queue at .*: cannot be reached/.test(err);
      if (code !== -1 && !away) wrong.push(`a worker ended with ${code}: ${err.trim().split('\n').at(-1)}`);
    });
    return worker;
  };
  const refill = () => {
    while (workers.size < WORKERS) workers.add(start());
  };
  while (counts.killed < kills && wrong.length === 0) {
    const verb = verbs[counts.rounds++ % verbs.length]!;
    await begin(verb);
    // So many that no job is given up for having ended too many.
    for (let blows = 0; !over(); ) {
      refill();
      await pause(100);
      if (blows === MOST_BLOWS || !isAtWork()) continue;
      await pause(chance() ** 2 * 3000);
      blows++;
      const victim = [...workers][Math.floor(chance() * workers.size)];
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
    wrong.push(...(await wrongNow(verb)));
  }
  for (const { child } of workers) child.kill('SIGKILL');
  process.stdout.write(`fleet, seed ${seed}: ${JSON.stringify(counts)}\n`);
  expect(wrong).toEqual([]);
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
function over(): boolean {
  const failed = redis.say('KEYS', 'bull:*:failed');
  return failed !== '' || Object.values(resultsIn(shared)).every(({ outcome }) => outcome !== null);
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
