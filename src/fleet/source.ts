import { realpath } from 'node:fs/promises';
import { dirname, isAbsolute, join, resolve, sep } from 'node:path';
import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import type { Camera } from '../camera/description.js';
import type { ResolvedSettings, SettingsFile } from '../camera/settings.js';
import { readSuite, type Suite, settingsOf, suiteOfProject } from '../check/suite.js';
import { readProject } from '../files/project.js';
import { readText } from '../files/read-json.js';
import { cameraFile, cameraShown, isShipped } from '../files/shipped-cameras.js';
import { openCamera, openSettings } from '../jobs/open.js';
import { sharedPath } from './payload.js';
import { type FleetVerb, isList } from './run.js';

/** Clips under one camera. */
export interface Spot {
  /** That a project gives them; null: their own. */
  site: string | null;
  clips: string[];
  camera: Camera;
  /** To check or to diagnose under; of a tuning: those in use, null where nobody said which. */
  settings: ResolvedSettings | null;
}

/** What is asked of a fleet; paths are within the shared folder. */
export interface Asked {
  verb: FleetVerb;
  /** A suite (its name ends in .json), a project, or a list: a clip a line, from where the list lies. */
  source: string;
  /** Of a list; others name their own. */
  camera: string | null;
  settings: string | null;
  /** Of a project: its spots, and the one that is meant where it is one; null: it is none. */
  project: { site: string | null; spots: Spot[] } | null;
}

/** What the source says. */
export interface Source {
  spots: Spot[];
  /** Of a project, the one that is meant; null: all, or it is none. */
  site: string | null;
  /** Of a suite or a list. */
  camera: string | null;
  settings: string | SettingsFile | null;
  /** What is checked. */
  suite: Suite | null;
}

/** @throws Problem for anything wrong with what is asked */
export async function readSource(asked: Asked): Promise<Source> {
  const { verb, source, project } = asked;
  if (project) {
    const { site, spots } = project;
    await mustBeShared(
      source,
      spots.flatMap(({ clips }) => clips),
    );
    const suite =
      verb === 'check' ? await suiteOfProject(await readProject(source), site ?? undefined) : null;
    return { spots, site, camera: null, settings: null, suite };
  }
  const { clips, camera: file, settings: said, suite } = await (isList(source) ? ofList : ofSuite)(asked);
  await mustBeShared(source, [...clips, file, said]);
  const camera = await openCamera(file === null ? undefined : await cameraFile(file));
  const settings =
    verb === 'tune' || said === null
      ? null
      : await (suite ? settingsOf(suite, camera) : openSettings(said, camera));
  return {
    spots: [{ site: null, clips, camera, settings }],
    site: null,
    camera: file,
    settings: said,
    suite,
  };
}

/** A suite or a list as it is written. */
type Written = Omit<Source, 'spots' | 'site'> & { clips: string[] };

async function ofSuite({ verb, source, camera, settings }: Asked): Promise<Written> {
  if (camera !== null || settings !== null) {
    throw new Problem(
      'usage',
      `${source}: expected the camera and the settings that the suite names, found --camera or --settings too; leave them out`,
    );
  }
  const suite = await readSuite(source);
  return {
    clips: suite.clips.map(({ path }) => path),
    camera: suite.cameraFile === null ? null : cameraShown(suite.cameraFile),
    settings: verb === 'tune' ? null : suite.settings,
    suite,
  };
}

async function ofList({ verb, source, camera, settings }: Asked): Promise<Written> {
  if (verb === 'check') {
    throw new Problem(
      'usage',
      `${source}: check: expected a suite, whose name ends in .json (perchmark schema suite prints what goes into one), found a list of clips; name a suite, or add --verb tune or --verb diagnose`,
    );
  }
  if (verb === 'diagnose' && settings === null) {
    throw new Problem(
      'usage',
      '--settings: expected a file of settings to diagnose a list of clips under, found none; add it',
    );
  }
  const clips = await readList(source);
  return { clips, camera, settings: verb === 'tune' ? null : settings, suite: null };
}

/** A clip a line, from the folder of the list; empty lines and those that begin with # do not count. */
async function readList(file: string): Promise<string[]> {
  const text = await readText(file, 'a list of clips, one a line');
  const clips: string[] = [];
  const places = new Set<string>();
  for (const [i, line] of text.split('\n').entries()) {
    const clip = line.trim();
    if (clip === '' || clip.startsWith('#')) continue;
    const path = isAbsolute(clip) ? clip : join(dirname(file), clip).replace(/\/$/, '');
    const target = await realpath(path).catch(() => {
      throw new Problem(
        'file-missing',
        `${file}: line ${i + 1}: expected a clip folder or a scene file, found nothing at ${path}; mend it, from the folder of the list`,
      );
    });
    if (places.has(target)) {
      throw new Problem('bad-field', `${file}: line ${i + 1}: ${path} stands there twice; take one out`);
    }
    places.add(target);
    clips.push(path);
  }
  if (clips.length > 0) return clips;
  throw new Problem('bad-field', `${file}: expected the name of a clip on each line, found none; write them`);
}

/** @throws Problem where one of the paths leads out of the folder that other machines see, by itself or by a link */
async function mustBeShared(source: string, paths: readonly Written['settings'][]): Promise<void> {
  const home = await realpath('.');
  for (const path of paths) {
    if (typeof path !== 'string' || isShipped(path)) continue;
    const target = await realpath(path).catch(() => resolve(path));
    const inside = target === home || target.startsWith(`${home}${sep}`);
    if (inside && sharedPath.safeParse(path).success) continue;
    throw new Problem(
      'leaves-folder',
      `${source}: expected clips, camera and settings in the shared folder, which all machines see, by their paths from there, found ${quoted(path)}, which lies elsewhere; put it there`,
    );
  }
}
