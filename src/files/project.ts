import { realpath, stat } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { z } from 'zod';
import { hint, Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { type SettingsFile, settingsSchema } from '../camera/settings.js';
import { readJson } from './read-json.js';
import { isThere } from './regular.js';
import { cameraFile } from './shipped-cameras.js';

/** What the file of a project is called. */
export const PROJECT = 'perchmark.json';
/** What a camera is called that stands beside it. */
export const CAMERA = 'camera.json';

/** No system takes a longer one. */
const path = z.string().min(1).max(4096);
const siteName = z.string().max(4096).regex(/\S/, { error: 'the name of a spot' });

const siteSchema = z.strictObject({
  site: siteName.describe('where the camera hangs; a clip.json that names a site names this one'),
  clips: z.array(path).min(1).describe('clip folders or scene files recorded there'),
  camera: path
    .optional()
    .describe(
      'the camera that hangs there, a file or the name of one that ships; left out: camera.json beside this file if there is one, else the default camera',
    ),
  settings: z
    .union([path, settingsSchema], { error: 'the path of a settings file, or settings themselves' })
    .optional()
    .describe('the settings in use there: a settings file, or what would stand in one'),
});

const eveningSchema = z.strictObject({
  folder: path.describe('the photos that the camera took'),
  site: siteName.optional().describe('which of the sites they are of'),
  marks: path.optional().describe('the CSV that says what is seen in which'),
  promised: path.optional().describe('what tune or plan printed with --json for those hours'),
});

/** perchmark.json: the spots of one owner, and what was recorded, set and planned there. Paths are relative to its folder. */
export const projectSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  sites: z.array(siteSchema).describe('the spots at which cameras hang, each once'),
  plans: z
    .array(path)
    .optional()
    .describe(
      'what plan printed with --json, a file each; the last is what an evening without a promise of its own is held against',
    ),
  evenings: z.array(eveningSchema).optional().describe("the evenings' real photos"),
});

/** What stands in the file of a project. */
export type ProjectFile = z.output<typeof projectSchema>;

/** One spot of a project, its paths resolved from where the program runs. */
export interface ProjectSite {
  site: string;
  /** Where it stands in the file, for messages: sites[0]. */
  place: string;
  clips: string[];
  /** Undefined: the default camera. */
  camera: string | undefined;
  /** A settings file, or settings themselves; undefined where the project does not say what is in use. */
  settings: string | SettingsFile | undefined;
}

/** A project, its paths resolved from where the program runs. */
export interface Project {
  file: string;
  sites: ProjectSite[];
  plans: string[];
  evenings: { folder: string; site?: string; marks?: string; promised?: string }[];
}

/**
 * Reads the file of a project. Whether what it names is there is found out where that is opened.
 * @throws Problem for a file that is missing or wrong, naming the place in it
 */
export async function readProject(file: string): Promise<Project> {
  const given = await readProjectFile(file);
  const beside = (name: string) => from(file, name);
  return {
    file,
    sites: await sitesOf(given, file),
    plans: (given.plans ?? []).map(beside),
    evenings: (given.evenings ?? []).map(({ folder, site, marks, promised }) => ({
      folder: beside(folder),
      ...(site !== undefined && { site }),
      ...(marks !== undefined && { marks: beside(marks) }),
      ...(promised !== undefined && { promised: beside(promised) }),
    })),
  };
}

/** The spots of what stands in the file of a project, their paths resolved. */
export async function sitesOf({ sites }: ProjectFile, file: string): Promise<ProjectSite[]> {
  const beside = (name: string) => from(file, name);
  const common = (await isThere(beside(CAMERA))) ? beside(CAMERA) : undefined;
  const cameras = await Promise.all(
    sites.map(({ camera }) => (camera === undefined ? common : cameraFile(camera, beside(camera)))),
  );
  return sites.map(({ site, clips, settings }, i) => ({
    site,
    place: `sites[${i}]`,
    clips: clips.map(beside),
    camera: cameras[i],
    settings: typeof settings === 'string' ? beside(settings) : settings,
  }));
}

/** As it stands, checked: for whoever writes it again. */
export async function readProjectFile(file: string): Promise<ProjectFile> {
  const given = await readJson(file, projectSchema, 'a project (perchmark schema project)');
  const names = given.sites.map(({ site }) => site);
  for (const [i, name] of names.entries()) {
    const first = names.indexOf(name);
    if (first < i) {
      throw new Problem(
        'bad-field',
        `${file}: sites[${i}].site: expected each site once, found ${quoted(name)}, which sites[${first}] is too; put its clips there`,
      );
    }
  }
  for (const [i, { site }] of (given.evenings ?? []).entries()) {
    if (site === undefined || names.includes(site)) continue;
    throw new Problem('bad-field', `${file}: evenings[${i}].site: ${expectedSite(names, site)}`);
  }
  await mustHaveClipsApart(given, file);
  return given;
}

/** A clip is a folder within the project's. One of two spots would speak for both of them; by another name it is the same clip. */
async function mustHaveClipsApart({ sites }: ProjectFile, file: string): Promise<void> {
  const places = new Map<string, string>();
  const home = await realPlace(dirname(file));
  for (const [i, { clips }] of sites.entries()) {
    for (const [j, clip] of clips.entries()) {
      const here = `sites[${i}].clips[${j}]`;
      const target = await realPlace(from(file, clip));
      if (target === home) {
        throw new Problem(
          'bad-field',
          `${file}: ${here}: expected a clip folder within the folder of the project, found ${quoted(clip)}, which is that folder itself; move the clip into a folder of its own, and name that`,
        );
      }
      const other = places.get(target);
      if (other !== undefined) {
        throw new Problem(
          'bad-field',
          `${file}: ${here}: expected each clip once, found ${quoted(clip)}, which ${other} is too; take one of them out`,
        );
      }
      places.set(target, here);
    }
  }
}

/**
 * @param site that a project gives a clip
 * @param named by its own clip.json; none: null
 * @param place of the clip in the project, for messages
 * @throws Problem where the two differ
 */
export function mustNameSite(site: string, named: string | null, clip: string, place: string): void {
  if (named === null || named === site) return;
  throw new Problem(
    'bad-field',
    `${place}: expected a clip of the site ${quoted(site)}, found one that names ${quoted(named)} itself (${clip}); mend the name in one of the two, or move the clip to its own site`,
  );
}

/** @throws Problem where one of the clips is not there, naming its place in the project */
export async function mustHaveClips({ file }: Project, { place, clips }: ProjectSite): Promise<void> {
  for (const [j, clip] of clips.entries()) {
    if (await stat(clip).catch(() => null)) continue;
    throw new Problem(
      'file-missing',
      `${file}: ${place}.clips[${j}]: expected a clip folder or a scene file, found nothing at ${clip}; mend the path, which is relative to the folder of ${file}, or take it out`,
    );
  }
}

/**
 * The spots of a project that are meant.
 * @param name undefined: all
 * @throws Problem 'usage' where there is none of that name, or none at all
 */
export function sitesNamed({ file, sites }: Project, name: string | undefined): ProjectSite[] {
  if (sites.length === 0) {
    throw new Problem(
      'bad-field',
      `${file}: sites: expected a spot with clips, found none; 'perchmark add RECORDING DIR --site NAME' puts a clip into it`,
    );
  }
  if (name === undefined) return sites;
  const found = sites.filter(({ site }) => site === name);
  if (found.length > 0) return found;
  throw new Problem(
    'usage',
    `--site: ${expectedSite(
      sites.map(({ site }) => site),
      name,
    )} in ${file}`,
  );
}

function expectedSite(names: readonly string[], found: string): string {
  return `expected one of ${names.map(quoted).join(', ')}, found ${quoted(found)}${hint(found, names)}`;
}

/**
 * The project that a path names: the file itself, or a folder with one in it that is no clip; null where it names none.
 * Folders above are never looked through: what stands there may be somebody else's.
 */
export async function projectAt(given: string): Promise<string | null> {
  const info = await stat(given).catch(() => null);
  if (!info?.isDirectory()) return info?.isFile() && basename(given) === PROJECT ? given : null;
  const file = join(given, PROJECT);
  return (await isThere(file)) && !(await isThere(join(given, 'clip.json'))) ? file : null;
}

/** A path in a project, from where the program runs. */
function from(file: string, name: string): string {
  return isAbsolute(name) ? name : join(dirname(file), name);
}

/**
 * A path as it is written into a project: from its folder, with / between folders.
 * @param target need not be there yet
 */
export async function pathIn(project: string, target: string): Promise<string> {
  const [home, there] = await Promise.all([realPlace(dirname(project)), realPlace(dirname(target))]);
  return relative(home, join(there, basename(target)))
    .split(sep)
    .join('/');
}

/** The spot of a project that names a clip, by whichever path (pile, ./pile, a link to it); undefined where none does. */
export async function siteWithClip(
  { sites }: ProjectFile,
  file: string,
  clip: string,
): Promise<{ site: string; place: string } | undefined> {
  const wanted = await realPlace(clip);
  for (const [i, { site, clips }] of sites.entries()) {
    for (const one of clips) {
      if ((await realPlace(from(file, one))) === wanted) return { site, place: `sites[${i}].clips` };
    }
  }
  return undefined;
}

/** Where a path leads once all links are followed; of what is not there yet, where it would stand. */
async function realPlace(path: string): Promise<string> {
  const found = await realpath(path).catch(() => null);
  if (found !== null || dirname(path) === path) return found ?? resolve(path);
  return join(await realPlace(dirname(path)), basename(path));
}
