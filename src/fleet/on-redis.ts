import { randomUUID } from 'node:crypto';
import type { Job as EngineJob, Queue as EngineQueue, Worker as EngineWorker } from 'bullmq';
import type { Redis } from 'ioredis';
import { Problem } from '../base/problem.js';
import type { Address } from './address.js';
import { readPayload } from './payload.js';
import type { Hold, Job, Outcome, Queue, Standing, Taken } from './queue.js';

/** How long a client tries to connect, milliseconds. */
const CONNECT_MS = 5000;
/** Seconds that a worker waits at the server for a job. */
const WAIT = 1;
/** How often a job is tried that fails for no fault of what it is of, and milliseconds between. */
const ATTEMPTS = 3;
const BETWEEN_ATTEMPTS = 2000;
/** How many workers may be lost over one job: it may be what ends them. */
const MOST_LOST = 20;
/** Seconds after which what has ended is forgotten: what it made is kept in the shared folder. */
const REMEMBERED = 30 * 86_400;
/** Questions asked of the server at once. */
const AT_ONCE = 100;

/** What the engine keeps of a job. */
interface Data {
  needs: readonly string[];
  payload: unknown;
}
type Kept = EngineJob<Data, Outcome>;

/** Only the holder lets go, or holds on. */
const RELEASE =
  "if redis.call('get', KEYS[1]) == ARGV[1] then return redis.call('del', KEYS[1]) end return 0";
const PROLONG =
  "if redis.call('get', KEYS[1]) == ARGV[1] then return redis.call('pexpire', KEYS[1], ARGV[2]) end return 0";

/**
 * A queue kept by BullMQ on a Redis server.
 * @param name of the queue: its fleet's and its program's
 * @param leaseMs after which a job of a worker that is not heard of goes to another
 * @throws Problem 'needs-queue' where the client is not installed or the server not reached
 */
export async function openOnRedis(address: Address, name: string, leaseMs: number): Promise<Queue> {
  const { bullmq, ioredis } = await clients();
  const options = connectionTo(address);
  const client = new ioredis.Redis(options);
  // What is wrong is told by the command that fails.
  client.on('error', () => undefined);
  await mustAnswer(client, address);
  return new OnRedis(bullmq, client, options, name, leaseMs);
}

async function clients() {
  try {
    const [bullmq, ioredis] = await Promise.all([import('bullmq'), import('ioredis')]);
    return { bullmq, ioredis };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ERR_MODULE_NOT_FOUND') throw error;
    throw new Problem(
      'needs-queue',
      'fleet: expected the packages bullmq and ioredis, which a fleet needs and one machine does not, found none; npm install bullmq ioredis puts them beside perchmark',
    );
  }
}

/** What both clients connect with. */
type Connection = {
  path?: string;
  host?: string;
  port?: number;
  db?: number;
  tls?: Record<string, never>;
  username?: string;
  password?: string;
  connectTimeout: number;
  maxRetriesPerRequest: null;
};

function connectionTo({ connect, user, password }: Address): Connection {
  const place =
    'path' in connect
      ? { path: connect.path }
      : { host: connect.host, port: connect.port, db: connect.db, ...(connect.tls && { tls: {} }) };
  return {
    ...place,
    ...(user !== null && { username: user }),
    ...(password !== null && { password }),
    connectTimeout: CONNECT_MS,
    // A server that is started again is waited for.
    maxRetriesPerRequest: null,
  };
}

async function mustAnswer(client: Redis, { shown }: Address): Promise<void> {
  let last: Error | null = null;
  const note = (error: Error) => {
    last = error;
  };
  client.on('error', note);
  const late = new Promise<never>((_, refuse) => {
    setTimeout(() => refuse(last ?? new Error('it does not answer')), CONNECT_MS).unref();
  });
  const failed = new Promise<never>((_, refuse) => {
    client.on('error', refuse);
  });
  try {
    await Promise.race([client.ping(), failed, late]);
  } catch (error) {
    client.disconnect();
    throw new Problem('needs-queue', `the queue at ${shown}: ${whyNot(last ?? (error as Error))}`);
  } finally {
    client.off('error', note);
  }
}

/** In our own words, for what a server says may repeat what it was sent. */
function whyNot(error: Error & { code?: string }): string {
  if (/WRONGPASS|invalid username-password|invalid password/i.test(error.message)) {
    return 'the user or the password is not the one it knows; mend them';
  }
  if (/NOAUTH/.test(error.message)) {
    return 'it wants a password; put the address with it into PERCHMARK_QUEUE or into a file';
  }
  return `cannot be reached${error.code === undefined ? '' : ` (${error.code})`}; start the server there, mend the address, or see whether a firewall is between`;
}

class OnRedis implements Queue {
  readonly #queue: EngineQueue<Data, Outcome>;
  #worker: EngineWorker<Data, Outcome> | null = null;

  constructor(
    private readonly bullmq: typeof import('bullmq'),
    private readonly client: Redis,
    private readonly options: Connection,
    private readonly name: string,
    private readonly leaseMs: number,
  ) {
    this.#queue = new bullmq.Queue(name, {
      connection: options,
      defaultJobOptions: {
        attempts: ATTEMPTS,
        backoff: { type: 'fixed', delay: BETWEEN_ATTEMPTS },
        removeOnComplete: { age: REMEMBERED },
        removeOnFail: { age: REMEMBERED },
        stackTraceLimit: 1,
      },
    });
    this.#queue.on('error', () => undefined);
  }

  async submit(jobs: readonly Job[], again: boolean): Promise<number> {
    const there = await this.standings(jobs.map(({ key }) => key));
    const isNew = ({ key }: Job) => {
      const state = there.get(key)?.state;
      return state === undefined || state === 'failed' || (again && state === 'done');
    };
    const wanted = jobs.filter(isNew);
    for (const part of inParts(wanted)) {
      const ended = part.filter(({ key }) => there.has(key));
      await Promise.all(ended.map(({ key }) => this.#queue.remove(key)));
      await this.#queue.addBulk(
        part.map(({ key, needs, payload }) => ({
          name: payload.kind,
          data: { needs, payload },
          opts: { jobId: key },
        })),
      );
    }
    return wanted.length;
  }

  async take(): Promise<Taken | null> {
    const worker = await this.#opened();
    const token = randomUUID();
    const job = await worker.getNextJob(token);
    return job ? this.#taken(job, token) : null;
  }

  /** Its timer gives jobs whose lease has lapsed to others. */
  async #opened(): Promise<EngineWorker<Data, Outcome>> {
    if (this.#worker) return this.#worker;
    const worker = new this.bullmq.Worker<Data, Outcome>(this.name, null, {
      connection: this.options,
      lockDuration: this.leaseMs,
      stalledInterval: Math.max(500, this.leaseMs / 2),
      maxStalledCount: MOST_LOST,
      drainDelay: WAIT,
    });
    worker.on('error', () => undefined);
    this.#worker = worker;
    await worker.startStalledCheckTimer();
    return worker;
  }

  #taken(job: Kept, token: string): Taken {
    const { needs, payload } = job.data;
    return {
      job: { key: job.id as string, needs, payload: readPayload(JSON.stringify(payload)) },
      beat: () => held(() => job.extendLock(token, this.leaseMs)),
      done: (outcome) => held(() => job.moveToCompleted(outcome, token, false)),
      failed: (why) => held(() => job.moveToFailed(new Error(why), token, false)),
      later: (milliseconds) => held(() => job.moveToDelayed(Date.now() + milliseconds, token)),
    };
  }

  async hold(names: readonly string[]): Promise<Hold | null> {
    const token = randomUUID();
    const keys = [...new Set(names)].map((name) => `${this.#queue.toKey('held')}:${name}`).sort();
    const mine: string[] = [];
    const release = async () => {
      for (const key of mine) await this.client.eval(RELEASE, 1, key, token);
    };
    for (const key of keys) {
      if ((await this.client.set(key, token, 'PX', this.leaseMs, 'NX')) === null) {
        await release();
        return null;
      }
      mine.push(key);
    }
    return {
      release,
      beat: async () => {
        for (const key of mine) {
          if ((await this.client.eval(PROLONG, 1, key, token, this.leaseMs)) === 0) return false;
        }
        return true;
      },
    };
  }

  async standings(keys: readonly string[]): Promise<Map<string, Standing>> {
    const found = new Map<string, Standing>();
    for (const part of inParts(keys)) {
      const all = await Promise.all(
        part.map(async (key) => {
          const job = (await this.#queue.getJob(key)) as Kept | undefined;
          return job ? ([key, await this.#standingOf(job, key)] as const) : null;
        }),
      );
      for (const one of all) if (one) found.set(...one);
    }
    return found;
  }

  async #standingOf(job: Kept, key: string): Promise<Standing> {
    const engine = await this.#queue.getJobState(key);
    const { processedOn: from, finishedOn: to } = job;
    const state =
      engine === 'completed'
        ? 'done'
        : engine === 'failed'
          ? 'failed'
          : engine === 'active'
            ? 'running'
            : 'waiting';
    return {
      state,
      outcome: state === 'done' ? (job.returnvalue ?? null) : null,
      why: state === 'failed' ? (job.failedReason ?? '') : null,
      seconds: from !== undefined && to !== undefined && to !== null ? (to - from) / 1000 : null,
    };
  }

  async left(): Promise<number> {
    const counts = await this.#queue.getJobCounts('waiting', 'active', 'delayed', 'prioritized');
    return Object.values(counts).reduce((sum, count) => sum + count, 0);
  }

  async close(): Promise<void> {
    await this.#worker?.close();
    await this.#queue.close();
    this.client.disconnect();
  }
}

/** Whether a lease still held: the engine throws where it is another's, or the job has ended. */
async function held(act: () => Promise<unknown>): Promise<boolean> {
  try {
    // To hold on to a lease gives 0 where it lapsed.
    return (await act()) !== 0;
  } catch (error) {
    if (/lock|not in the|Missing key|not found/i.test((error as Error).message)) return false;
    throw error;
  }
}

function inParts<T>(all: readonly T[]): T[][] {
  return Array.from({ length: Math.ceil(all.length / AT_ONCE) }, (_, i) =>
    all.slice(i * AT_ONCE, (i + 1) * AT_ONCE),
  );
}
