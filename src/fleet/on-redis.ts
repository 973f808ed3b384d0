import { randomUUID } from 'node:crypto';
import type { Queue as EngineQueue, Worker as EngineWorker } from 'bullmq';
import type { Redis } from 'ioredis';
import { Problem } from '../base/problem.js';
import type { Address } from './address.js';
import { readPayload } from './payload.js';
import type { Hold, Job, Outcome, Queue, Standing, Taken } from './queue.js';
import { clientOf, connectionTo, faultOf } from './redis-client.js';
import { type Asked, holdOnRedis } from './redis-hold.js';
import { type Data, type Kept, MOST_LOST, nameOf, standingOf } from './redis-job.js';

/** Seconds that a worker waits at the server for a job. */
const WAIT = 1;
/** How often a job is tried that fails for no fault of what it is of, and milliseconds between. */
const ATTEMPTS = 3;
const BETWEEN_ATTEMPTS = 2000;
/** Seconds after which what has ended is forgotten: what it made is kept in the shared folder. */
const REMEMBERED = 30 * 86_400;
/** Questions asked of the server at once. */
const AT_ONCE = 100;

export interface OpenOptions {
  /** After which a job of a worker that is not heard of goes to another. */
  leaseMs: number;
  /** Told where the server goes away, and that it is back. */
  onWarning: (line: string) => void;
}

/**
 * A queue kept by BullMQ on a Redis server.
 * @param name of the queue: its fleet's and its program's
 * @throws Problem 'needs-queue' where the client is not installed, or the server is not reached or will not do
 */
export async function openOnRedis(
  address: Address,
  name: string,
  { leaseMs, onWarning }: OpenOptions,
): Promise<Queue> {
  const { bullmq, ioredis } = await clients();
  const { client, ahead } = await clientOf(ioredis, address, onWarning);
  return new OnRedis(bullmq, client, address, name, leaseMs, ahead);
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

class OnRedis implements Queue {
  readonly #queue: EngineQueue<Data, Outcome>;
  #worker: EngineWorker<Data, Outcome> | null = null;

  constructor(
    private readonly bullmq: typeof import('bullmq'),
    private readonly client: Redis,
    private readonly address: Address,
    private readonly name: string,
    private readonly leaseMs: number,
    private readonly ahead: number,
  ) {
    this.#queue = new bullmq.Queue(name, {
      connection: connectionTo(address),
      // What it would print by itself was looked at already.
      skipVersionCheck: true,
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

  now(): Date {
    return new Date(Date.now() + this.ahead);
  }

  submit(jobs: readonly Job[], done: 'leave' | 'redo'): Promise<number> {
    return this.#asked(() => this.#submit(jobs, done));
  }

  /** @throws Problem for what the server refuses */
  async #asked<T>(act: () => Promise<T>): Promise<T> {
    try {
      return await act();
    } catch (error) {
      throw faultOf(error, this.address);
    }
  }

  async #submit(jobs: readonly Job[], done: 'leave' | 'redo'): Promise<number> {
    const there = await this.#standings(jobs.map(({ key }) => key));
    const isNew = ({ key }: Job) => {
      const state = there.get(key)?.state;
      return state === undefined || state === 'failed' || (state === 'done' && done === 'redo');
    };
    const wanted = jobs.filter(isNew);
    for (const part of inParts(wanted)) {
      const ended = part.filter(({ key }) => there.has(key));
      await Promise.all(ended.map(({ key }) => this.#queue.remove(key)));
      await this.#queue.addBulk(
        part.map(({ key, needs, payload }) => ({
          name: nameOf(payload),
          data: { needs, payload },
          opts: { jobId: key },
        })),
      );
    }
    return wanted.length;
  }

  take(): Promise<Taken | null> {
    return this.#asked(async () => {
      const worker = await this.#opened();
      const token = randomUUID();
      const job = await worker.getNextJob(token);
      return job ? this.#taken(job, token) : null;
    });
  }

  /** Its timer gives jobs whose lease has lapsed to others. */
  async #opened(): Promise<EngineWorker<Data, Outcome>> {
    if (this.#worker) return this.#worker;
    const worker = new this.bullmq.Worker<Data, Outcome>(this.name, null, {
      connection: connectionTo(this.address),
      skipVersionCheck: true,
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
    const key = job.id as string;
    const held = (act: () => Promise<unknown>) => this.#asked(() => stillHeld(act));
    // A job itself counts from this machine's clock, and where that is ahead would come back as much later.
    const delay = (milliseconds: number) =>
      this.#queue.backend.moveToDelayed(key, this.now().getTime(), milliseconds, token, {
        skipAttempt: true,
      });
    return {
      job: { key, needs, payload: readPayload(JSON.stringify(payload)) },
      beat: async (share) => {
        if (!(await held(() => job.extendLock(token, this.leaseMs)))) return false;
        if (share !== null) await this.#asked(() => job.updateProgress(Math.floor(share * 100)));
        return true;
      },
      done: (outcome) => held(() => job.moveToCompleted(outcome, token, false)),
      failed: (why) => held(() => job.moveToFailed(new Error(why), token, false)),
      later: (milliseconds) => held(() => delay(milliseconds)),
    };
  }

  hold(names: readonly string[]): Promise<Hold | null> {
    const keys = names.map((name) => `${this.#queue.toKey('held')}:${name}`);
    const asked: Asked = (act) => this.#asked(act);
    return holdOnRedis(this.client, keys, this.leaseMs, asked);
  }

  standings(keys: readonly string[]): Promise<Map<string, Standing>> {
    return this.#asked(() => this.#standings(keys));
  }

  async #standings(keys: readonly string[]): Promise<Map<string, Standing>> {
    const found = new Map<string, Standing>();
    for (const part of inParts(keys)) {
      const all = await Promise.all(
        part.map(async (key) => {
          const job = (await this.#queue.getJob(key)) as Kept | undefined;
          return job ? ([key, standingOf(job, await this.#queue.getJobState(key))] as const) : null;
        }),
      );
      for (const one of all) if (one) found.set(...one);
    }
    return found;
  }

  async left(): Promise<number> {
    const counts = await this.#asked(() =>
      this.#queue.getJobCounts('waiting', 'active', 'delayed', 'prioritized'),
    );
    return Object.values(counts).reduce((sum, count) => sum + count, 0);
  }

  async close(): Promise<void> {
    await this.#worker?.close();
    await this.#queue.close();
    this.client.disconnect();
  }
}

/** Whether a lease still held: the engine throws where it is another's, or the job has ended. */
async function stillHeld(act: () => Promise<unknown>): Promise<boolean> {
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
