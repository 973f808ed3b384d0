import { dirname, resolve } from 'node:path';
import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { exchange } from './exchange.js';
import { type ProjectFile, pathIn, readProjectFile, siteWithClip } from './project.js';
import { readText } from './read-json.js';
import { isThere } from './regular.js';

/**
 * Puts a clip into a project, as one of a spot, which is made where there is none of that name. The file is made where there
 * is none; two programs that do this at once lose nothing.
 * @throws Problem where the file is wrong or cannot be written, or names the clip as one of another spot; it is then as it was
 */
export async function joinProject(file: string, clip: string, site: string): Promise<void> {
  await changeProject(file, (project) => joined(project, file, clip, site));
}

/** Sees, before the work, that a clip may be put there. @throws Problem as `joinProject` */
export async function mayJoinProject(file: string, clip: string, site: string): Promise<void> {
  await joined(await asItStands(file), file, clip, site);
}

async function joined(
  project: ProjectFile,
  file: string,
  clip: string,
  site: string,
): Promise<ProjectFile | null> {
  if (site.trim() === '')
    throw new Problem('usage', '--site: expected the name of a spot, found an empty one');
  const path = await pathIn(file, clip);
  const holder = await siteWithClip(project, file, clip);
  if (holder && holder.site !== site) {
    throw new Problem(
      'bad-field',
      `${file}: ${holder.place}: ${quoted(path)} is one of ${quoted(holder.site)} already; expected it at ${quoted(site)} alone; take it out there, or choose another folder`,
    );
  }
  if (holder) return null;
  const names = project.sites.map((one) => one.site);
  const alike = names.find((name) => name !== site && plainly(name) === plainly(site));
  if (alike !== undefined && !names.includes(site)) {
    throw new Problem(
      'usage',
      `${file}: it has a spot ${quoted(alike)}, which ${quoted(site)} differs from by capitals or spaces alone; expected the name as it stands there, or one that tells the two apart`,
    );
  }
  const known = project.sites.find((one) => one.site === site);
  const sites = known
    ? project.sites.map((one) => (one === known ? { ...one, clips: [...one.clips, path] } : one))
    : [...project.sites, { site, clips: [path] }];
  return { ...project, sites };
}

/**
 * Puts an evening whose folder was just made into a project that is there, as the latest. One that the project has of a folder
 * of that name is of photos that are gone: it gives way, with the spot and the promise that it was held against.
 * @param site one of the project's spots; null where nobody said of which
 * @returns whether one gave way
 * @throws Problem where the file is wrong or cannot be written; it is then as it was
 */
export async function joinEvening(file: string, evening: string, site: string | null): Promise<boolean> {
  let gaveWay = false;
  await changeProject(file, async (project) => {
    const folder = await pathIn(file, evening);
    const { evenings = [] } = project;
    const folders = await Promise.all(
      evenings.map((one) => pathIn(file, resolve(dirname(file), one.folder))),
    );
    gaveWay = folders.includes(folder);
    const others = evenings.filter((_, i) => folders[i] !== folder);
    return { ...project, evenings: [...others, { folder, ...(site !== null && { site }) }] };
  });
  return gaveWay;
}

/** A name but for what nobody tells two spots apart by. */
function plainly(name: string): string {
  return name.normalize('NFKC').trim().replace(/\s+/g, ' ').toLowerCase();
}

/**
 * Writes a project again with what is made of it, for an empty one where there is none.
 * @param next may be asked more than once; null: it stays as it is
 * @throws Problem where it is wrong or cannot be written, and whatever `next` throws
 */
export async function changeProject(
  file: string,
  next: (project: ProjectFile) => Promise<ProjectFile | null> | ProjectFile | null,
): Promise<void> {
  await exchange(file, async () => {
    const before = await asItStands(file);
    const after = await next(before);
    if (after === null) return null;
    return `${JSON.stringify({ ...(await schemaNamedIn(file)), ...after }, null, 2)}\n`;
  });
}

async function asItStands(file: string): Promise<ProjectFile> {
  return (await isThere(file)) ? readProjectFile(file) : { version: 1, sites: [] };
}

/** What stands there for editors, which nobody is handed who reads the file: it stays. */
async function schemaNamedIn(file: string): Promise<{ $schema?: string }> {
  if (!(await isThere(file))) return {};
  const text = (await readText(file, 'a project')).replace(/^\uFEFF/, '');
  const { $schema } = JSON.parse(text) as { $schema?: string };
  return $schema === undefined ? {} : { $schema };
}
