import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { CAMERA, PROJECT, pathIn, readProject } from '../files/project.js';
import { promisedSites } from '../jobs/evening/promised.js';
import type { PromiseFound } from './evening-protocol.js';
import type { Workspace } from './workspace.js';

/** What tune says of dozens of sites is less. */
const MOST_BYTES = 16 * 2 ** 20;
const OTHERS = [CAMERA, PROJECT, 'clip.json', 'labels.json'];

/** What was promised in files of the opened folder, and in those that its project names; the latest first. */
export async function promisesIn(workspace: Workspace): Promise<PromiseFound[]> {
  const found: PromiseFound[] = [];
  for (const file of await filesOf(workspace)) found.push(...(await promisesOf(workspace, file)));
  return found.sort((a, b) => b.changed - a.changed);
}

/** Whether that is among what `promisesIn` gives; no other file is read. */
export async function isPromised(
  workspace: Workspace,
  { file, site }: Pick<PromiseFound, 'file' | 'site'>,
): Promise<boolean> {
  if (!(await filesOf(workspace)).has(file)) return false;
  return (await promisesOf(workspace, file)).some((one) => one.site === site);
}

/** What may be files of promises, by their paths from the opened folder. */
async function filesOf(workspace: Workspace): Promise<Set<string>> {
  const { root } = workspace;
  const names = (await readdir(root)).filter(
    (name) => name.endsWith('.json') && !name.startsWith('.') && !OTHERS.includes(name),
  );
  const file = await workspace.project();
  const { plans, evenings } = file === null ? { plans: [], evenings: [] } : await readProject(file);
  const given = [...plans, ...evenings.flatMap(({ promised }) => promised ?? [])];
  const named = await Promise.all(given.map((path) => pathIn(join(root, PROJECT), path)));
  return new Set([...named.filter((path) => !path.startsWith('../')), ...names]);
}

async function promisesOf(workspace: Workspace, file: string): Promise<PromiseFound[]> {
  const path = join(workspace.root, file);
  const info = await stat(path).catch(() => null);
  if (!info?.isFile() || info.size > MOST_BYTES) return [];
  try {
    await workspace.refuseLinkedOut(path);
    const sites = await promisedSites(path);
    return sites.map((one) => ({ file, ...one, changed: info.mtimeMs }));
  } catch (error) {
    // Any other file of JSON.
    if (error instanceof Problem) return [];
    throw error;
  }
}
