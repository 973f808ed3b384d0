import { setTimeout as pause } from 'node:timers/promises';
import { Problem } from '../base/problem.js';
import { asProblem } from '../files/faults.js';
import type { Agree } from '../jobs/documents/agree.js';
import type { workSchema } from '../jobs/documents/fleet.js';
import type { OpenPorts } from '../jobs/ports.js';
import { carryOut } from './carry-out.js';
import { type Program, programText, sameProgram } from './program.js';
import type { Hold, Queue, Taken } from './queue.js';
import { runsKept } from './shared-folder.js';

export interface WorkOptions {
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
  const foreign = new Set<string>();
  for (;;) {
    const taken = await queue.take();
    if (!taken) {
      await tellForeign(program, foreign, ports);
      if (untilEmpty && (await queue.left()) === 0) break;
      continue;
    }
    const { payload, needs } = taken.job;
    if (!sameProgram(payload.program, program)) {
      ports.onWarning(refusal(payload.program, program));
      await taken.later(FOREIGN);
      continue;
    }
    if (!(await haveEnded(queue, needs))) {
      await taken.later(LOOK_AGAIN);
      continue;
    }
    const hold = await queue.hold(payload.clips);
    if (!hold) {
      await taken.later(LOOK_AGAIN);
      continue;
    }
    runs.add(payload.run);
    try {
      await one(taken, hold, queue, result, options);
    } finally {
      await hold.release();
    }
  }
  if (foreign.size > 0) throw new Problem('usage', [...foreign].join('; '));
  return { ...result, runs: [...runs].sort() };
}

/** Does one job, holding on to it while it makes progress. */
async function one(
  taken: Taken,
  hold: Hold,
  queue: Queue,
  result: WorkResult,
  { leaseMs, patienceMs = PATIENCE, ports }: WorkOptions,
): Promise<void> {
  const { kind, clips } = taken.job.payload;
  const what = kind === 'write' ? 'the last of a run' : `${kind} ${clips.join(', ')}`;
  const gone = new AbortController();
  let sign = Date.now();
  let asking = false;
  const beat = async () => {
    if (asking) return;
    asking = true;
    try {
      const silent = Date.now() - sign > patienceMs;
      if (silent || !(await taken.beat()) || !(await hold.beat())) gone.abort(new Lost(what));
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
    onPhase: alive(ports.onPhase),
    onProgress: alive(ports.onProgress),
    signal: ports.signal ? AbortSignal.any([ports.signal, gone.signal]) : gone.signal,
  };
  try {
    const outcome = await carryOut(taken.job, queue, own);
    if (outcome.bad !== null) ports.onWarning(outcome.bad);
    // What was made twice was made alike: that the job is another's now does no harm.
    if (!(await taken.done(outcome))) result.lost++;
    else if (outcome.bad === null) result.done++;
    else result.bad++;
  } catch (error) {
    ports.signal?.throwIfAborted();
    if (error instanceof Lost) {
      result.lost++;
      ports.onWarning(error.message);
      return;
    }
    const { message } = asProblem(error) ?? (error as Error);
    ports.onWarning(`${what}: failed here: ${message}`);
    result.failed++;
    await taken.failed(message);
    await pause(LOOK_AGAIN);
  } finally {
    clearInterval(beating);
  }
}

class Lost extends Error {
  constructor(what: string) {
    super(
      `${what}: left to another worker, for this one was not heard of, or made no progress, for too long`,
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

/** Tells of runs that wait for workers of other programs, each once. */
async function tellForeign(program: Program, told: Set<string>, { onWarning }: OpenPorts): Promise<void> {
  for (const { run, end } of await runsKept()) {
    if (end || sameProgram(run.program, program)) continue;
    const line = refusal(run.program, program);
    if (told.has(line)) continue;
    told.add(line);
    onWarning(line);
  }
}

function refusal(theirs: Program, own: Program): string {
  return `jobs of perchmark ${programText(theirs)} are left for workers of that version, for this one is ${programText(own)}; run them with that version, or submit anew with this one`;
}

true satisfies Agree<typeof workSchema, WorkResult>;
