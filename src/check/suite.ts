import { realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, posix } from 'node:path';
import { z } from 'zod';
import { Problem } from '../base/problem.js';
import { ownStems } from '../base/stems.js';
import { quoted } from '../base/text.js';
import { defaultCamera } from '../camera/default.js';
import type { Camera } from '../camera/description.js';
import { type ResolvedSettings, resolveSettings, settingsSchema } from '../camera/settings.js';
import { nameAfter } from '../files/names.js';
import { PROJECT, type Project, type ProjectSite, pathIn, sitesNamed } from '../files/project.js';
import { readCamera } from '../files/read-camera.js';
import { readJson } from '../files/read-json.js';
import { readSettings } from '../files/read-settings.js';
import { cameraFile } from '../files/shipped-cameras.js';

/** No system takes a longer one. */
const path = z.string().min(1).max(4096);

const limitsSchema = z.strictObject({
  recall: z.number().min(0).max(1).optional().describe('share of the visits caught, at least; 0 to 1'),
  falsePerHour: z
    .number()
    .min(0)
    .max(1_000_000)
    .optional()
    .describe('false triggers per watched hour, at most'),
});

/** suite.json: what is checked, and what must hold. Paths are relative to the file's own folder. */
export const suiteSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  title: z.string().optional().describe('what reports call it; left out: the name of the file'),
  clips: z
    .array(
      z.union(
        [
          path,
          z.strictObject({
            clip: path.describe('a clip folder or a scene file'),
            limits: limitsSchema.optional().describe('what must hold on this clip'),
          }),
        ],
        {
          error: 'the path of a clip, or an object with "clip" and "limits"',
        },
      ),
    )
    .min(1)
    .describe('clip folders or scene files, with labels; each alone or with limits of its own'),
  camera: path
    .optional()
    .describe('a camera description, or the name of one that ships; left out: the default camera'),
  settings: z
    .union([path, settingsSchema], { error: 'the path of a settings file, or settings themselves' })
    .describe('a settings file, or what would stand in one'),
  limits: limitsSchema.optional().describe('what must hold over all clips together'),
  accepted: path.optional().describe('where accepted results are kept; left out: NAME.accepted.json beside'),
  strict: z
    .boolean()
    .optional()
    .describe('true: any change of a result fails until it is accepted, not only a lost visit'),
});

export type Limits = z.output<typeof limitsSchema>;

/** A suite, its paths resolved from where the program runs. */
export interface Suite {
  file: string;
  title: string;
  /** `name`: as the suite writes it, tidied; results are kept under it. `place`: where it stands in the file, for messages. */
  clips: { name: string; path: string; limits: Limits; place: string }[];
  /** Null: the default camera. */
  cameraFile: string | null;
  settings: z.output<typeof settingsSchema> | string;
  limits: Limits;
  acceptedFile: string;
  strict: boolean;
}

/**
 * Reads a suite and sees that its clips are there, each once.
 * @throws Problem for a file that is missing or wrong, naming the place in the suite
 */
export async function readSuite(file: string): Promise<Suite> {
  const given = await readJson(file, suiteSchema, 'a suite of clips to check (perchmark schema suite)');
  const beside = (path: string) => join(dirname(file), path);
  const clips = given.clips.map((entry, i) => {
    const { clip, limits = {} } = typeof entry === 'string' ? { clip: entry } : entry;
    const name = posix.normalize(clip).replace(/(?<=.)\/$/, '');
    return { name, path: beside(name), limits, place: `clips[${i}]` };
  });
  await mustBeThereOnce(clips, file);
  return {
    file,
    title: given.title ?? basename(file, '.json'),
    clips,
    cameraFile: given.camera === undefined ? null : await cameraFile(given.camera, beside(given.camera)),
    settings: typeof given.settings === 'string' ? beside(given.settings) : given.settings,
    limits: given.limits ?? {},
    acceptedFile: beside(
      given.accepted ?? nameAfter(basename(file).replace(/\.json$/, ''), '.accepted.json'),
    ),
    strict: given.strict ?? false,
  };
}

async function mustBeThereOnce(clips: Suite['clips'], file: string): Promise<void> {
  const places = new Map<string, number>();
  for (const [i, { name, path }] of clips.entries()) {
    const there = await stat(path).catch(() => null);
    if (!there) {
      throw new Problem(
        'file-missing',
        `${file}: clips[${i}]: expected a clip folder or a scene file, found nothing at ${path}; mend ${quoted(name)}, which is relative to the suite's folder`,
      );
    }
    const place = await realpath(path);
    const other = places.get(place);
    if (other !== undefined) {
      throw new Problem(
        'bad-field',
        `${file}: clips[${i}]: expected each clip once, found ${quoted(name)}, which clips[${other}] is too; take one of them out`,
      );
    }
    places.set(place, i);
  }
}

/** What accepted results are called that are of all spots. */
const ALL_SPOTS = basename(PROJECT, '.json');

/**
 * The suite that spots of a project are, which have one camera and the same settings in use: no limits, its accepted results
 * beside the project.
 * @param site of the spot that is meant, which has settings in use; undefined: all of them
 */
export async function suiteOfProject(project: Project, site: string | undefined): Promise<Suite> {
  const { file } = project;
  const sites = sitesNamed(project, site);
  const [{ camera, settings }] = sites as [ProjectSite];
  const clips: Suite['clips'] = [];
  for (const { place, clips: paths } of sites) {
    for (const [j, path] of paths.entries()) {
      clips.push({ name: await pathIn(file, path), path, limits: {}, place: `${place}.clips[${j}]` });
    }
  }
  return {
    file,
    title: sites.map(({ site }) => site).join(', '),
    clips,
    cameraFile: camera ?? null,
    settings: settings as NonNullable<ProjectSite['settings']>,
    limits: {},
    acceptedFile: join(dirname(file), nameAfter(stemFor(project, site), '.accepted.json')),
    strict: false,
  };
}

/** What the accepted results of a spot are called: no two spots of a project share a name. */
function stemFor({ sites }: Project, site: string | undefined): string {
  if (site === undefined) return ALL_SPOTS;
  const names = [ALL_SPOTS, ...sites.map((one) => one.site)];
  return ownStems(names, 'site', [''])[names.lastIndexOf(site)]!;
}

/** Every file that a suite names, and its clips. */
export function filesOf({ clips, cameraFile, settings, acceptedFile }: Suite): string[] {
  return [
    ...clips.map(({ path }) => path),
    ...(cameraFile === null ? [] : [cameraFile]),
    ...(typeof settings === 'string' ? [settings] : []),
    acceptedFile,
  ];
}

/** The camera that a suite is for. */
export async function cameraOf(suite: Suite): Promise<Camera> {
  return suite.cameraFile === null ? defaultCamera : readCamera(suite.cameraFile);
}

/** A suite's settings as engine values of a camera: dial positions mean what that camera's dials give. */
export async function settingsOf(suite: Suite, camera: Camera): Promise<ResolvedSettings> {
  return typeof suite.settings === 'string'
    ? readSettings(suite.settings, camera)
    : resolveSettings(suite.settings, camera, `${suite.file}: settings`);
}
