import { Problem, type ProblemCode } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import { Recounted } from '../clip/recounted.js';
import { asProblem } from '../files/faults.js';
import { diagnose } from '../jobs/diagnose.js';
import type { OpenPorts } from '../jobs/ports.js';
import { readEvidence } from '../jobs/read.js';
import { replay } from '../jobs/replay.js';
import { tune } from '../jobs/tune.js';
import { keepAnswer, readAnswer } from './answers.js';
import { type ClipPrint, printOf } from './clip-print.js';
import { documentOf, type Worked } from './document-of.js';
import { openAs } from './open-as.js';
import type { Job, Outcome, Queue } from './queue.js';
import type { Run } from './run.js';
import { knownFleet, readRun, writeEnd } from './shared-folder.js';
import { troublesIn } from './troubles.js';

/** What is wrong with the machine, not with a clip: another one may do better. */
const OF_THE_MACHINE: readonly ProblemCode[] = [
  'file-unwritable',
  'needs-ffmpeg',
  'needs-queue',
  'incomplete',
];

/**
 * Does one job: what it makes is kept in the shared store or written into the folder of results, and is the same whoever
 * does it, and however often.
 * @throws what is no fault of its clips: the job is then tried again
 */
export async function carryOut(job: Job, queue: Queue, ports: OpenPorts): Promise<Outcome> {
  if (job.payload.kind === 'write') return write(job, queue, ports);
  try {
    await twiceIfRecounted(() => work(job, ports));
    return { bad: null };
  } catch (error) {
    return { bad: (await faultOfClip(error)).message };
  }
}

async function work({ key, payload }: Job, ports: OpenPorts): Promise<void> {
  const { kind, clips, seen, settings, site } = payload;
  const camera = payload.camera as Camera;
  switch (kind) {
    case 'read':
      return readEvidence(clips[0]!, camera, ports);
    case 'tune': {
      // Somebody has done it whose lease had lapsed meanwhile.
      if (await readAnswer(ports.cache, key)) return;
      const opened = await openAs(clips, site, ports);
      const { sites } = await tune({ clips: opened, camera, now: settings ?? undefined }, ports);
      // The key is of clips as they were submitted, and an answer about others must not be found under it.
      const changed = await changedSince(clips.map((path, i) => ({ path, seen: seen[i] ?? null })));
      if (changed.length === 0) await keepAnswer(ports.cache, key, sites[0]!);
      return;
    }
    case 'check':
      await replay({ clips, camera, settings: settings! }, ports);
      return;
    case 'diagnose':
      await diagnose({ clips, camera, settings: settings! }, ports);
      return;
  }
}

/** A video of which other frames decode than were promised is opened anew, as on the command line. */
async function twiceIfRecounted<T>(act: () => Promise<T>): Promise<T> {
  try {
    return await act();
  } catch (error) {
    if (!(error instanceof Recounted)) throw error;
    return act();
  }
}

/** The problem, where it is one of clips. @throws anything else */
async function faultOfClip(error: unknown): Promise<Problem> {
  const problem = error instanceof Problem ? error : asProblem(error);
  if (!problem || OF_THE_MACHINE.includes(problem.code)) throw error;
  // Where the shared folder went away nothing is wrong with what was in it.
  await knownFleet();
  return problem;
}

/** The last job of a run. */
async function write({ payload: { run: name } }: Job, queue: Queue, ports: OpenPorts): Promise<Outcome> {
  let run: Run;
  try {
    run = await readRun(name);
  } catch (error) {
    // It was removed meanwhile: nobody waits for its document, and others do for this worker.
    return { bad: (await faultOfClip(error)).message };
  }
  const standings = await queue.standings(run.jobs.map(({ key }) => key));
  const troubles = troublesIn(run, standings);
  const ended = () => new Date().toISOString();
  let worked: Worked;
  try {
    worked = await twiceIfRecounted(() => documentOf(run, ports));
  } catch (error) {
    const { message } = await faultOfClip(error);
    await writeEnd(name, null, { version: 1, ended: ended(), code: 2, message, troubles });
    return { bad: message };
  }
  const { document, code } = worked;
  for (const clip of await changedSince(run.clips)) {
    const message = `${clip}: was changed while this went on, so that it is told partly as it was; submit ${run.source} again`;
    troubles.push({ clips: [clip], message });
  }
  await writeEnd(name, document, { version: 1, ended: ended(), code, message: null, troubles });
  return { bad: null };
}

/** Which clips were changed since they were submitted. */
async function changedSince(clips: readonly Pick<ClipPrint, 'path' | 'seen'>[]): Promise<string[]> {
  const changed: string[] = [];
  for (const { path, seen } of clips) if ((await printOf(path)).seen !== seen) changed.push(path);
  return changed;
}
