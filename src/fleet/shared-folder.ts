import { randomUUID } from 'node:crypto';
import { readdir, realpath, stat } from 'node:fs/promises';
import { isAbsolute, join, relative, resolve, sep } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';
import { makeFolders, makeSharedFolder } from '../files/folder.js';
import { replaceOwn } from '../files/output.js';
import { readJson, readText } from '../files/read-json.js';
import { askedIn, type End, endSchema, type Run, runSchema } from './run.js';

/** All that a fleet writes into the shared folder. Paths are relative to that folder, in which the program runs. */
export const FLEET = 'fleet';
const ABOUT = join(FLEET, 'fleet.json');
export const RESULTS = join(FLEET, 'results');
/** What is kept between jobs, for all machines. */
export const KEPT = join(FLEET, 'kept');

const aboutSchema = z.strictObject({
  version: z.literal(1),
  id: z.string().regex(/^[0-9a-f-]{36}$/),
});

/**
 * The name of the fleet that shares this folder; the first who submits gives it one.
 * @throws Problem 'file-unwritable'
 */
export async function foundFleet(): Promise<string> {
  const there = await fleetHere();
  if (there !== null) return there;
  const about = { version: 1, id: randomUUID() };
  await makeSharedFolder(
    FLEET,
    (folder) => folder.writeJson('fleet.json', about),
    async () => (await fleetHere()) !== null,
  );
  return knownFleet();
}

/** @throws Problem 'file-missing' where nobody has submitted anything here yet, or the folder is not there any more */
export async function knownFleet(): Promise<string> {
  const id = await fleetHere();
  if (id !== null) return id;
  throw new Problem(
    'file-missing',
    `--shared: expected a folder to which something was submitted, found no ${ABOUT} in ${resolve('.')}; see that the shared folder is there, or submit something: perchmark fleet submit`,
  );
}

/** @throws Problem where the folder has another fleet by now, whose queue is another; not where it cannot be seen */
export async function mustBeFleet(id: string): Promise<void> {
  const now = await fleetHere().catch(() => null);
  if (now === null || now === id) return;
  throw new Problem(
    'file-missing',
    `${resolve(ABOUT)}: expected the fleet that this worker began with, found another, because ${FLEET} was removed and made anew meanwhile; start the worker again`,
  );
}

async function fleetHere(): Promise<string | null> {
  if (!(await stat(ABOUT).catch(() => null))) return null;
  return (await readJson(ABOUT, aboutSchema, 'the name of a fleet')).id;
}

/** Where a run's files are: run.json, then document.json and outcome.json. */
function fileOf(name: string, file: string): string {
  return join(RESULTS, name, file);
}

export const documentFile = (name: string) => fileOf(name, 'document.json');

export async function writeRun(name: string, run: Run): Promise<void> {
  await makeFolders(join(RESULTS, name));
  await replaceOwn(fileOf(name, 'run.json'), `${JSON.stringify(run, null, 2)}\n`);
}

export async function readRun(name: string): Promise<Run> {
  return readJson(fileOf(name, 'run.json'), runSchema, 'a run of the fleet');
}

/** @param document as the verb prints it; null where it has none */
export async function writeEnd(name: string, document: string | null, end: End): Promise<void> {
  if (document !== null) await replaceOwn(documentFile(name), document);
  await replaceOwn(fileOf(name, 'outcome.json'), `${JSON.stringify(end, null, 2)}\n`);
}

/** How a run ended; null where it has not. */
export async function endOf(name: string): Promise<End | null> {
  const file = fileOf(name, 'outcome.json');
  if (!(await stat(file).catch(() => null))) return null;
  return readJson(file, endSchema, 'the outcome of a run');
}

/** The document of a run, by the schema of its verb; null where there is none. */
export async function documentOfRun<S extends z.ZodType>(
  name: string,
  schema: S,
): Promise<z.output<S> | null> {
  const file = documentFile(name);
  if (!(await stat(file).catch(() => null))) return null;
  return parseJson(await readText(file, 'a document'), file, schema, 'a document');
}

/** A run with its name and how it ended. */
export interface RunKept {
  name: string;
  run: Run;
  end: End | null;
}

/** All runs of this folder, the first submitted first. */
export async function runsKept(): Promise<RunKept[]> {
  const names = await readdir(RESULTS).catch(() => []);
  const runs: RunKept[] = [];
  for (const name of names) {
    // One that is removed meanwhile is as if it had not been there.
    const run = await unlessMissing(readRun(name));
    if (run) runs.push({ name, run, end: await unlessMissing(endOf(name)) });
  }
  return runs.sort((a, b) => Date.parse(a.run.submitted) - Date.parse(b.run.submitted));
}

async function unlessMissing<T>(read: Promise<T>): Promise<T | null> {
  try {
    return await read;
  } catch (error) {
    if (error instanceof Problem && error.code === 'file-missing') return null;
    throw error;
  }
}

/** Of a run without outcome whose last job is in no queue. */
export function lostText({ source }: Run): string {
  return `its jobs are not in this queue, which was emptied, or is another; submit ${source} again`;
}

/** Those that have not ended, and were not asked for again since. @param runs as `runsKept` gives them */
export function openRuns(runs: readonly RunKept[]): RunKept[] {
  const last = new Map(runs.map((kept) => [askedIn(kept.run), kept]));
  return runs.filter((kept) => !kept.end && last.get(askedIn(kept.run)) === kept);
}

/**
 * A path as it stands within the shared folder, with / between names.
 * @param path from where the program was started
 * @throws Problem where it is not there, or lies elsewhere, where other machines would not find it
 */
export async function withinShared(option: string, path: string, shared: string): Promise<string> {
  const there = (place: string) =>
    realpath(place).catch(() => {
      throw new Problem('file-missing', `${option} ${path}: there is nothing of that name; mend it`);
    });
  const inside = relative(await there(shared), await there(path));
  if (inside !== '' && inside !== '..' && !inside.startsWith(`..${sep}`) && !isAbsolute(inside)) {
    return inside.split(sep).join('/');
  }
  throw new Problem(
    'leaves-folder',
    `${option} ${path}: expected something in the shared folder ${shared}, which all machines see, found it elsewhere; put it there`,
  );
}
