import { setTimeout as pause } from 'node:timers/promises';
import { Problem } from '../base/problem.js';
import { asProblem } from '../files/faults.js';
import type { Agree } from '../jobs/documents/agree.js';
import type { workSchema } from '../jobs/documents/fleet.js';
import type { OpenPorts } from '../jobs/ports.js';
import { carryOut } from './carry-out.js';
import { Claim } from './claim.js';
import { type Program, programText, sameProgram } from './program.js';
import type { Hold, Queue, Taken } from './queue.js';
import { endOf, lostText, mustBeFleet, openRuns, runsKept } from './shared-folder.js';

export interface WorkOptions {
  /** Its name, as the shared folder had it when the queue was opened. */
  fleet: string;
  program: Program;
  /** Milliseconds for which a job is leased: it is held on to three times as often. */
  leaseMs: number;
  /** Whether to end once nothing is left. */
  untilEmpty: boolean;
  /** Milliseconds without progress after which a job is taken to hang, and let go. */
  patienceMs?: number;
  ports: OpenPorts;
}

/** What a worker did. */
export interface WorkResult {
  done: number;
  /** Of clips that cannot be used. */
  bad: number;
  /** Tried here in vain. */
  failed: number;
  /** Taken away meanwhile, for others did not hear of this worker in time. */
  lost: number;
  /** Folders of results that it worked for. */
  runs: string[];
}

/** Milliseconds after which a job is looked at again whose clips are in use, or that needs others. */
const LOOK_AGAIN = 1000;
/** Milliseconds after which a job of another program is, which should not be here. */
const FOREIGN = 30_000;
/** Milliseconds after which an idle worker looks through the shared folder again. */
const LOOK_THROUGH = 30_000;
/** Jobs in a row that this machine could not do, after which it is left to others. */
const MOST_IN_A_ROW = 3;
/** Beyond the longest that any part of a job is known to be silent. */
const PATIENCE = 900_000;

/**
 * Takes jobs and does them, one at a time, until it is stopped or nothing is left.
 * @throws Problem for what is wrong with the queue or the shared folder
 */
export async function workOn(queue: Queue, options: WorkOptions): Promise<WorkResult> {
  const { program, untilEmpty, ports } = options;
  const result: WorkResult = { done: 0, bad: 0, failed: 0, lost: 0, runs: [] };
  const runs = new Set<string>();
  const foreign = new Foreign(program, ports);
  const later = givingBack();
  const isDue = nowAndThen();
  let inARow = 0;
  for (;;) {
    const claim = new Claim(queue);
    try {
      const taken = await claim.take();
      if (!taken) {
        if (isDue()) {
          await mustBeFleet(options.fleet);
          await foreign.tell();
        }
        if (untilEmpty && (await queue.left()) === 0) break;
        continue;
      }
      const { payload, needs } = taken.job;
      if (!sameProgram(payload.program, program)) {
        ports.onWarning(refusal(payload.program, program));
        await later(taken, FOREIGN);
        continue;
      }
      const hold = (await haveEnded(queue, needs)) ? await claim.hold(payload.clips) : null;
      if (!hold) {
        await later(taken, LOOK_AGAIN);
        continue;
      }
      runs.add(payload.run);
      const fault = await one(taken, hold, queue, result, options);
      inARow = fault ? inARow + 1 : 0;
      if (fault && inARow === MOST_IN_A_ROW) throw fault;
    } finally {
      await claim.end();
    }
  }
  const left = await foreign.lines();
  if (left.length > 0) throw new Problem('usage', left.join('; '));
  await mustHaveEnded(program, queue);
  return { ...result, runs: [...runs].sort() };
}

/**
 * Gives a job back until so many milliseconds later. One that comes at once all the same, as where this machine's clock is
 * ahead of the queue's, is not asked for again and again.
 */
function givingBack(): (taken: Taken, milliseconds: number) => Promise<void> {
  let last = { key: '', at: Number.NEGATIVE_INFINITY };
  return async (taken, milliseconds) => {
    const { key } = taken.job;
    await taken.later(milliseconds);
    const at = performance.now();
    if (key === last.key && at - last.at < LOOK_AGAIN) await pause(LOOK_AGAIN);
    last = { key, at };
  };
}

/** @throws Problem where a run has no outcome though nothing of it is left to do */
async function mustHaveEnded(program: Program, queue: Queue): Promise<void> {
  for (const { name, run } of openRuns(await runsKept())) {
    if (!sameProgram(run.program, program)) continue;
    const { key } = run.jobs.at(-1)!;
    const last = (await queue.standings([key])).get(key);
    if (await endOf(name)) continue;
    if (!last) throw new Problem('needs-queue', `${name}: ${lostText(run)}`);
    if (last.why === null) continue;
    throw new Problem('needs-queue', `${name}: its document could not be written: ${last.why}`);
  }
}

/**
 * Does one job, holding on to it while it makes progress.
 * @returns what is wrong with this machine, for which the job was given back; null: nothing
 */
async function one(
  taken: Taken,
  hold: Hold,
  queue: Queue,
  result: WorkResult,
  { leaseMs, patienceMs = PATIENCE, ports }: WorkOptions,
): Promise<Problem | null> {
  const { kind, clips } = taken.job.payload;
  const what = kind === 'write' ? 'the last of a run' : `${kind} ${clips.join(', ')}`;
  const gone = new AbortController();
  let sign = Date.now();
  let share: number | null = null;
  let asking = false;
  const beat = async () => {
    if (asking) return;
    asking = true;
    try {
      const silent = Date.now() - sign > patienceMs;
      if (silent || !(await taken.beat(share)) || !(await hold.beat())) gone.abort(new Lost(what));
    } catch {
      // The server is away: whether the lease held is told once it is back.
    } finally {
      asking = false;
    }
  };
  const beating = setInterval(() => void beat(), leaseMs / 3);
  const alive = <A extends unknown[]>(tell: (...args: A) => void) => {
    return (...args: A) => {
      sign = Date.now();
      tell(...args);
    };
  };
  const own: OpenPorts = {
    ...ports,
    // There is a worker for each core.
    threads: 1,
    onPhase: alive(ports.onPhase),
    onProgress: alive((done, total) => {
      share = total > 0 ? Math.min(1, done / total) : null;
      ports.onProgress(done, total);
    }),
    signal: ports.signal ? AbortSignal.any([ports.signal, gone.signal]) : gone.signal,
  };
  try {
    const outcome = await carryOut(taken.job, queue, own);
    if (outcome.bad !== null) ports.onWarning(outcome.bad);
    // What was made twice was made alike: that the job is another's now does no harm.
    if (!(await taken.done(outcome))) result.lost++;
    else if (outcome.bad === null) result.done++;
    else result.bad++;
    return null;
  } catch (error) {
    ports.signal?.throwIfAborted();
    if (error instanceof Lost) {
      result.lost++;
      ports.onWarning(error.message);
      return null;
    }
    const problem = error instanceof Problem ? error : asProblem(error);
    const { message } = problem ?? (error as Error);
    ports.onWarning(`${what}: failed here: ${message}`);
    result.failed++;
    // Of a machine that cannot do it another may; only what is wrong everywhere counts against the job.
    if (problem) await taken.later(LOOK_AGAIN);
    else await taken.failed(message);
    await pause(LOOK_AGAIN);
    return problem;
  } finally {
    clearInterval(beating);
  }
}

class Lost extends Error {
  constructor(what: string) {
    super(
      `${what}: left to another worker, because this one was not heard of, or made no progress, for too long`,
    );
  }
}

/** From the last on, which ends last. */
async function haveEnded(queue: Queue, needs: readonly string[]): Promise<boolean> {
  for (const key of needs.toReversed()) {
    const state = (await queue.standings([key])).get(key)?.state;
    if (state === 'waiting' || state === 'running') return false;
  }
  return true;
}

/** Whether the shared folder is to be looked through again, which takes long where it has many runs: now and then only. */
function nowAndThen(): () => boolean {
  let looked = Number.NEGATIVE_INFINITY;
  return () => {
    if (performance.now() - looked < LOOK_THROUGH) return false;
    looked = performance.now();
    return true;
  };
}

/** Runs that wait for workers of other programs. */
class Foreign {
  readonly #told = new Set<string>();

  constructor(
    private readonly own: Program,
    private readonly ports: OpenPorts,
  ) {}

  /** Tells of each once. */
  async tell(): Promise<void> {
    for (const line of await this.lines()) {
      if (!this.#told.has(line)) this.ports.onWarning(line);
      this.#told.add(line);
    }
  }

  /** What is to be said of them, once for each program. */
  async lines(): Promise<string[]> {
    const open = openRuns(await runsKept()).map(({ run }) => run.program);
    return [
      ...new Set(open.filter((one) => !sameProgram(one, this.own)).map((one) => refusal(one, this.own))),
    ];
  }
}

function refusal(theirs: Program, own: Program): string {
  return `jobs of perchmark ${programText(theirs)} are left for workers of that version, because this one is ${programText(own)}; run them with that version, or submit anew with this one`;
}

true satisfies Agree<typeof workSchema, WorkResult>;
