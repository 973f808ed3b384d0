import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import type { Camera } from '../camera/description.js';
import { type ResolvedSettings, resolveSettings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import {
  mustHaveClips,
  mustNameSite,
  PROJECT,
  type Project,
  type ProjectSite,
  projectAt,
  readProject,
  sitesNamed,
} from '../files/project.js';
import { isThere } from '../files/regular.js';
import { cameraShown } from '../files/shipped-cameras.js';
import { openCamera, openClips, openSettings, openTunable } from '../jobs/open.js';
import type { OpenPorts } from '../jobs/ports.js';
import { plural } from '../words/ratios.js';

/** What the command line says; whatever is given by hand goes before what the project says. */
export interface Given {
  clips: readonly string[];
  camera?: string | undefined;
  /** A file of settings. */
  settings?: string | undefined;
  site?: string | undefined;
}

/** Clips under one camera and the settings in use there: a spot of a project, or what was named by hand. */
export interface Spot {
  /** Null: named by hand. */
  site: string | null;
  clips: string[];
  camera: Camera;
  /** Null: nobody said which. */
  settings: ResolvedSettings | null;
  /** Where it stands in the project, for messages: perchmark.json: sites[0]. */
  place: string;
}

export interface Spots {
  spots: Spot[];
  /** Null: all was named by hand. */
  project: Project | null;
  /** Files that were read for it, and the clips. */
  reads: string[];
}

/**
 * What a verb is about: the clips that were named with the camera and the settings that were, or else the spots of the project
 * in this folder, or in the one that was named instead of clips.
 * @param verb for messages
 * @throws Problem where there is neither, or where something is wrong with what was named
 */
export async function spotsOf(
  verb: string,
  given: Given,
  ports: Pick<OpenPorts, 'onWarning'>,
): Promise<Spots> {
  const project = await projectFor(given.clips);
  const open = TRY_DIALS.includes(verb) ? openTunable : openCamera;
  if (project) return ofProject(project, given, open, ports);
  if (given.clips.length === 0) {
    throw new Problem(
      'usage',
      (await isThere(PROJECT))
        ? `${verb}: expected the names of clips, found none; ${PROJECT} of this folder is no project, because clip.json beside it makes the folder a clip: move the clip into a folder of its own, or name it`
        : `${verb}: expected the names of clips, found none, nor a ${PROJECT} in this folder; name a clip, or go to the folder of your project`,
    );
  }
  if (given.site !== undefined) {
    throw new Problem(
      'usage',
      `--site: expected with the spots of a project (${PROJECT}), found clips that were named; leave one of the two out`,
    );
  }
  const camera = await open(given.camera);
  const settings = given.settings === undefined ? null : await openSettings(given.settings, camera, ports);
  const reads = [given.camera, given.settings, ...given.clips].filter((read) => read !== undefined);
  return { spots: [{ site: null, clips: [...given.clips], camera, settings, place: '' }], project, reads };
}

/** The project that is meant where no clips are named, or where its folder is; null where there is none. */
export async function projectFor(clips: readonly string[]): Promise<Project | null> {
  if (clips.length > 1) return null;
  const file = await projectAt(clips[0] ?? '.');
  return file === null ? null : readProject(file);
}

/** Verbs that turn every dial of the camera. */
const TRY_DIALS = ['tune', 'plan'];

async function ofProject(
  project: Project,
  given: Given,
  open: typeof openCamera,
  ports: Pick<OpenPorts, 'onWarning'>,
): Promise<Spots> {
  const sites = sitesNamed(project, given.site);
  const reads = new Set([project.file]);
  // Spots that share a file share what is read from it, and what is said of it.
  const cameras = new Map<string | undefined, Camera>();
  const inUse = new Map<string, ResolvedSettings>();
  const spots: Spot[] = [];
  for (const site of sites) {
    await mustHaveClips(project, site);
    const file = given.camera ?? site.camera;
    const camera = cameras.get(file) ?? (await open(file));
    cameras.set(file, camera);
    const said = given.settings ?? site.settings;
    const place = `${project.file}: ${site.place}`;
    const key = `${file} ${JSON.stringify(said)}`;
    const settings = inUse.get(key) ?? (await settingsOf(said, camera, place, ports));
    if (settings) inUse.set(key, settings);
    for (const read of [file, said, ...site.clips]) if (typeof read === 'string') reads.add(read);
    spots.push({ site: site.site, clips: site.clips, camera, settings, place });
  }
  ports.onWarning(takenText(project, sites, given));
  return { spots, project, reads: [...reads] };
}

async function settingsOf(
  said: ProjectSite['settings'],
  camera: Camera,
  place: string,
  ports: Pick<OpenPorts, 'onWarning'>,
): Promise<ResolvedSettings | null> {
  if (said === undefined) return null;
  if (typeof said === 'string') return openSettings(said, camera, ports);
  const settings = resolveSettings(said, camera, `${place}.settings`);
  for (const warning of settings.warnings) ports.onWarning(warning);
  return settings;
}

/** What was taken from where, so that nobody wonders: one line. */
function takenText({ file }: Project, sites: readonly ProjectSite[], { camera, settings }: Given): string {
  const clips = sites.reduce((n, site) => n + site.clips.length, 0);
  const names = sites.map(({ site }) => site).join(', ');
  const taken = [
    `${plural(clips, 'clip')} of ${names}`,
    ...(camera === undefined ? ['their cameras'] : []),
    ...(settings === undefined ? ['their settings in use'] : []),
  ];
  return `from ${file}: ${taken.join('; ')}`;
}

/**
 * Opens the clips of all spots, each taken as one of its spot.
 * @returns for each spot its clips, in order
 * @throws Problem for anything wrong with them, and where a clip.json names another site than the project does
 */
export async function clipsOf(spots: readonly Spot[], ports: OpenPorts): Promise<Clip[][]> {
  const opened = await openClips(
    spots.flatMap(({ clips }) => clips),
    ports,
  );
  let next = 0;
  return spots.map((spot) =>
    spot.clips.map((_, j) => ofSpot(opened[next++]!, spot, `${spot.place}.clips[${j}]`)),
  );
}

function ofSpot(clip: Clip, { site }: Spot, place: string): Clip {
  if (site === null) return clip;
  mustNameSite(site, clip.manifest.site ?? null, clip.dir, place);
  return { ...clip, manifest: { ...clip.manifest, site } };
}

/** @throws Problem where nobody said which settings a spot uses */
export function settingsInUse({ settings, place, site }: Spot): ResolvedSettings {
  if (settings) return settings;
  throw new Problem(
    'usage',
    site === null
      ? '--settings: expected a file of settings, found none; add one: engine values, or dial positions under "controls"'
      : `${place}.settings: expected the settings in use at ${quoted(site)}, found nothing; write them there, name some with --settings, or let 'perchmark tune --use' set what it recommends`,
  );
}

/** Spots with one camera and the same settings in use belong together. */
export function alikeSpots<S extends Spot>(spots: readonly S[]): S[][] {
  const groups = new Map<string, S[]>();
  for (const spot of spots) {
    const key = JSON.stringify([spot.camera, spot.settings && { ...spot.settings, warnings: [] }]);
    groups.set(key, [...(groups.get(key) ?? []), spot]);
  }
  return [...groups.values()];
}

/**
 * The first of spots that must be alike, for a verb that is about one camera and one group of settings.
 * @throws Problem where they are not
 */
export function onlyGroup(verb: string, spots: readonly Spot[]): Spot {
  const groups = alikeSpots(spots);
  if (groups.length === 1) return spots[0]!;
  const apart = groups.map((group) => group.map(({ site }) => site).join(' and ')).join('; ');
  throw new Problem(
    'usage',
    `${verb}: expected spots with one camera and the same settings in use, found several (${apart}); choose one with --site`,
  );
}

/**
 * The camera of a verb that takes no clips: the one that is named, else that of the project in this folder, else the default.
 * @returns its file; undefined: the default camera
 * @throws Problem where the spots of the project have several
 */
export async function cameraFileFor(
  { camera, site }: Pick<Given, 'camera' | 'site'>,
  { onWarning }: Pick<OpenPorts, 'onWarning'>,
): Promise<string | undefined> {
  const project = camera === undefined ? await projectFor([]) : null;
  if (!project) return camera;
  const files = new Set(sitesNamed(project, site).map((one) => one.camera));
  if (files.size > 1) {
    throw new Problem(
      'usage',
      `${project.file}: its spots have several cameras; choose a spot with --site, or name the camera with --camera`,
    );
  }
  const [file] = [...files];
  if (file !== undefined) onWarning(`from ${project.file}: ${cameraShown(file)}`);
  return file;
}
