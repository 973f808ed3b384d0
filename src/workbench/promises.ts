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
  const { root } = workspace;
  const names = (await readdir(root)).filter(
    (name) => name.endsWith('.json') && !name.startsWith('.') && !OTHERS.includes(name),
  );
  const project = await workspace.project();
  const { plans } = project === null ? { plans: [] } : await readProject(project);
  const named = await Promise.all(plans.map((plan) => pathIn(join(root, PROJECT), plan)));
  const within = named.filter((path) => !path.startsWith('../'));
  const found: PromiseFound[] = [];
  for (const file of new Set([...within, ...names])) {
    const path = join(root, file);
    const info = await stat(path).catch(() => null);
    if (!info?.isFile() || info.size > MOST_BYTES) continue;
    try {
      await workspace.refuseLinkedOut(path);
      for (const { kind, site } of await promisedSites(path))
        found.push({ file, kind, site, changed: info.mtimeMs });
    } catch (error) {
      // Any other file of JSON.
      if (!(error instanceof Problem)) throw error;
    }
  }
  return found.sort((a, b) => b.changed - a.changed);
}
