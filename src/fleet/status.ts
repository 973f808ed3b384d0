import type { z } from 'zod';
import type { statusSchema } from '../jobs/documents/fleet.js';
import type { Program } from './program.js';
import type { Queue, Standing } from './queue.js';
import { askedIn, type Run } from './run.js';
import { documentFile, lostText, type RunKept, runsKept } from './shared-folder.js';
import { changeOf, figuresOf, type SiteFigures } from './site-figures.js';
import { troublesIn } from './troubles.js';

export type Status = z.output<typeof statusSchema>;
type Progress = Status['sites'][number]['progress'];
type Part = Run['jobs'][number];

/** Rows of a table of sites: those to look at first. */
const ORDER = ['worse', 'changed', 'new', null, 'better', 'same'] as const;

/**
 * How far each run is, and what it found against the time before.
 * @param queueOf opens the queue of a program's jobs
 */
export async function statusOf(
  shown: string,
  queueOf: (program: Program) => Promise<Queue>,
): Promise<Status> {
  const all = await runsKept();
  const lastOf = new Map(all.map((kept) => [askedIn(kept.run), kept]));
  const last = new Set(lastOf.values());
  const runs: Status['runs'] = [];
  const sites: Status['sites'] = [];
  for (const kept of all) {
    if (kept.end && !last.has(kept)) continue;
    const standings = kept.end ? new Map<string, Standing>() : await standingsOf(kept, queueOf);
    // Asked for again since, and in no queue any more: nobody waits for it.
    if (!kept.end && !last.has(kept) && !standings.has(kept.run.jobs.at(-1)!.key)) continue;
    runs.push(runOf(kept, standings));
    sites.push(...(await sitesOf(kept, standings, all)));
  }
  const place = ({ change }: Status['sites'][number]) => ORDER.indexOf(change);
  sites.sort((a, b) => place(a) - place(b) || (a.site ?? '').localeCompare(b.site ?? '', 'en'));
  return { queue: shown, runs, sites };
}

async function standingsOf(
  { run: { jobs, program } }: RunKept,
  queueOf: (program: Program) => Promise<Queue>,
): Promise<Map<string, Standing>> {
  const queue = await queueOf(program);
  try {
    return await queue.standings(jobs.map(({ key }) => key));
  } finally {
    await queue.close();
  }
}

function runOf({ name, run, end }: RunKept, standings: Map<string, Standing>): Status['runs'][number] {
  const last = standings.get(run.jobs.at(-1)!.key);
  const moving = run.jobs.some(({ key }) => standings.get(key)?.state === 'running');
  const state = end
    ? 'ended'
    : !last
      ? 'lost'
      : last.state === 'failed'
        ? 'failed'
        : moving
          ? 'running'
          : 'waiting';
  return {
    run: name,
    verb: run.verb,
    source: run.source,
    program: run.program,
    submitted: run.submitted,
    state,
    ended: end?.ended ?? null,
    code: end?.code ?? null,
    message: end ? end.message : last ? last.why : lostText(run),
    document: end && end.code !== 2 ? documentFile(name) : null,
    progress: progressOf(run.jobs, run, end !== null, standings),
    kinds: [...new Set(run.jobs.map(({ kind }) => kind))].map((kind) => {
      const of = run.jobs.filter((job) => job.kind === kind);
      return {
        kind,
        jobs: of.length,
        ended: end ? of.length : of.filter((job) => hasEnded(standings.get(job.key))).length,
        seconds: meanSeconds(of, standings),
      };
    }),
    troubles: end ? end.troubles : troublesIn(run, standings),
  };
}

async function sitesOf(
  { name, run, end }: RunKept,
  standings: Map<string, Standing>,
  all: readonly RunKept[],
): Promise<Status['sites']> {
  const now = end ? await figuresOf(name, run) : null;
  const before = await figuresBefore(run, all);
  return [...new Set(run.clips.map(({ site: one }) => one))].map((one) => {
    const found = now?.get(one) ?? null;
    const was = before?.get(one) ?? null;
    const jobs = run.jobs.filter((job) => job.site !== undefined && job.site === one);
    return {
      site: one,
      run: name,
      source: run.source,
      verb: run.verb,
      progress: progressOf(jobs, run, end !== null, standings),
      change: found && changeOf(found, was),
      now: found,
      before: was,
    };
  });
}

/** What the last run that asked the same found that was submitted before this one and has a document. */
async function figuresBefore(
  run: Run,
  all: readonly RunKept[],
): Promise<Map<string | null, SiteFigures> | null> {
  const alike = all.filter(
    (kept) =>
      askedIn(kept.run) === askedIn(run) &&
      Date.parse(kept.run.submitted) < Date.parse(run.submitted) &&
      kept.end !== null &&
      kept.end.code !== 2,
  );
  const last = alike.at(-1);
  return last ? figuresOf(last.name, last.run) : null;
}

/** @param jobs of a run, all or some of them */
function progressOf(
  jobs: readonly Part[],
  run: Run,
  over: boolean,
  standings: Map<string, Standing>,
): Progress {
  const ended = over ? jobs.length : jobs.filter(({ key }) => hasEnded(standings.get(key))).length;
  const running = jobs.filter(({ key }) => standings.get(key)?.state === 'running').length;
  return {
    jobs: jobs.length,
    ended,
    running,
    secondsLeft: ended === jobs.length ? 0 : secondsLeft(jobs, run, standings),
  };
}

/** By what jobs of each kind took so far, shared among those at work now. What writes the document counts for nothing. */
function secondsLeft(jobs: readonly Part[], run: Run, standings: Map<string, Standing>): number | null {
  const workers = run.jobs.filter(({ key }) => standings.get(key)?.state === 'running').length;
  if (workers === 0) return null;
  let sum = 0;
  for (const { key, kind } of jobs) {
    if (hasEnded(standings.get(key)) || kind === 'write') continue;
    const mean = meanSeconds(
      run.jobs.filter((job) => job.kind === kind),
      standings,
    );
    if (mean === null) return null;
    sum += mean;
  }
  return sum / workers;
}

function meanSeconds(jobs: readonly Part[], standings: Map<string, Standing>): number | null {
  const took = jobs.flatMap(({ key }) => standings.get(key)?.seconds ?? []);
  return took.length === 0 ? null : took.reduce((sum, one) => sum + one, 0) / took.length;
}

function hasEnded(standing: Standing | undefined): boolean {
  return standing?.state === 'done' || standing?.state === 'failed';
}

/** What the command ends with: the worst of the runs told; null where none has ended. */
export function worstCode(runs: Status['runs']): { code: 0 | 1 | 2; message: string | null } | null {
  const codes = runs.flatMap(({ run, state, code, message }) => {
    if (state !== 'failed' && state !== 'lost') return code === null ? [] : [{ code, message }];
    return [{ code: 2 as const, message: `${run}: ${message ?? ''}` }];
  });
  return codes.sort((a, b) => b.code - a.code)[0] ?? null;
}
