import { lstat, realpath, stat } from 'node:fs/promises';
import { isAbsolute, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Problem } from '../base/problem.js';
import { defaultCamera } from '../camera/default.js';
import type { Camera } from '../camera/description.js';
import { manifestSchema } from '../clip/manifest.js';
import type { Clip } from '../clip/open.js';
import { makeFolders } from '../files/folder.js';
import { sweep } from '../files/partial.js';
import { CAMERA, PROJECT, projectAt, readProject } from '../files/project.js';
import { readCamera } from '../files/read-camera.js';
import { readJson } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { openClips } from '../jobs/open.js';
import type { OpenPorts } from '../jobs/ports.js';
import { readScene } from '../scene/film.js';
import { visitsSaid } from '../score/says-nothing.js';
import { labelsOnDisk } from './labels-on-disk.js';
import { clipsIn, onlyClip, type Place, projectsClips, scenesIn } from './places.js';
import type { ClipListed } from './protocol.js';
import { type SettingsFound, settingsIn } from './settings-on-disk.js';
import { Shared } from './shared.js';

const SCENES = fileURLToPath(new URL('../../clips/', import.meta.url));
const DEMO = 'workbench';

/** The opened folder: which clips are in it, and the camera and the settings kept beside them. */
export class Workspace {
  private readonly opened = new Map<string, { clip: Clip; print: string }>();
  private readonly opening = new Map<string, Shared<Clip>>();

  private constructor(
    /** As it was named; null for the demo. */
    readonly named: string | null,
    /** Where camera, settings and all that the page makes are kept. */
    readonly root: string,
    private readonly find: () => Promise<Place[]>,
  ) {}

  /**
   * @param named a folder with clip folders in it, or one clip; left out: the demo's scenes, drawn when first needed
   * @throws Problem 'file-missing' or 'file-unreadable'
   */
  static async open(named: string | undefined, { cache }: Pick<OpenPorts, 'cache'>): Promise<Workspace> {
    if (named === undefined) {
      const root = cache.path(DEMO);
      await makeFolders(root);
      return new Workspace(null, root, () => scenesIn(SCENES, root));
    }
    const info = await stat(named).catch(() => null);
    if (!info) {
      throw new Problem(
        'file-missing',
        `${named}: there is no such folder; expected a clip, or a folder to keep clips in; make it first, or name another`,
      );
    }
    if (!info.isDirectory()) {
      throw new Problem(
        'file-unreadable',
        `${named}: this is a file; expected a clip, or a folder to keep clips in ('perchmark add ${named} DIR' makes a clip of a recording)`,
      );
    }
    // What programs left unfinished that live no more: recordings of many gigabytes may be among it.
    await sweep(named);
    if (await isThere(join(named, 'clip.json'))) return new Workspace(named, named, () => onlyClip(named));
    const file = join(named, PROJECT);
    // One that is wrong is told of before the page opens.
    if (await isThere(file)) await readProject(file);
    return new Workspace(named, named, async () =>
      (await isThere(file)) ? projectsClips(await readProject(file), named) : clipsIn(named),
    );
  }

  /** The file of the project in this folder; null where there is none. */
  async project(): Promise<string | null> {
    return this.named === null ? null : projectAt(this.root);
  }

  /** All clips, by name; those that cannot be opened too. */
  async places(): Promise<Place[]> {
    return this.find();
  }

  /** @throws Problem 'file-missing' where there is none of that name */
  async place(id: string): Promise<Place> {
    const place = (await this.places()).find((one) => one.id === id);
    if (place) {
      await this.refuseElsewhere(place);
      return place;
    }
    throw new Problem('file-missing', `there is no clip ${id} in this folder; go back to the list of clips`);
  }

  async list(): Promise<ClipListed[]> {
    return Promise.all(
      (await this.places()).map((place) => listed(place, () => this.refuseElsewhere(place))),
    );
  }

  /** What a clip is and what is said of it lie in the opened folder; its frames, in the clip, see to themselves. */
  private async refuseElsewhere({ path, kind, labelsFile }: Place): Promise<void> {
    if (kind === 'folder') {
      await this.refuseOutside(path);
      await this.refuseLinkedOut(join(path, 'clip.json'));
    }
    await this.refuseLinkedOut(labelsFile);
  }

  /** A project may name a clip anywhere; labels are written into the opened folder alone. */
  private async refuseOutside(path: string): Promise<void> {
    const [home, real] = await Promise.all([realpath(this.root), realpath(path).catch(() => null)]);
    if (real === null || isWithin(home, real)) return;
    throw new Problem(
      'leaves-folder',
      `${path}: this clip lies outside of the opened folder, into which alone the page writes; move it there, or open the folder that it is in`,
    );
  }

  /**
   * Refuses a file that a link takes out of the opened folder: it would be read, or written over, elsewhere.
   * @throws Problem 'leaves-folder'
   */
  async refuseLinkedOut(file: string): Promise<void> {
    const info = await lstat(file).catch(() => null);
    if (!info?.isSymbolicLink()) return;
    const [home, real] = await Promise.all([realpath(this.root), realpath(file).catch(() => null)]);
    if (real !== null && isWithin(home, real)) return;
    throw new Problem(
      'leaves-folder',
      `${file}: this is a link that leads ${real === null ? 'nowhere' : `out of the opened folder (to ${real})`}; put the file itself there`,
    );
  }

  /**
   * The clip without its labels, which change while it is open; of a scene with those that are drawn. Opened once, and anew where its description, its video or
   * its folder of stills is another than then.
   * @param look closely: at every file of it, as a clip is always opened; what is as it was is the same clip again
   * @throws Problem for whatever is wrong with it; the signal's reason
   */
  async recording(id: string, ports: OpenPorts, look: 'closely' | 'quickly' = 'quickly'): Promise<Clip> {
    const place = await this.place(id);
    const { path } = place;
    const before = this.opened.get(path);
    if (before && look === 'quickly' && (await fingerprint(place, before.clip)) === before.print) {
      return before.clip;
    }
    let opening = this.opening.get(path);
    if (!opening || opening.stopped) {
      const mine = new Shared(ports.cache, (told) => this.openAnew(place, told));
      opening = mine;
      this.opening.set(path, mine);
    }
    const joined = opening;
    return joined.join(ports).finally(() => {
      if (this.opening.get(path) === joined) this.opening.delete(path);
    });
  }

  private async openAnew(place: Place, ports: OpenPorts): Promise<Clip> {
    const { path, kind, site } = place;
    const [opened] = (await openClips([path], ports)) as [Clip];
    const clip = ofSite(opened, site);
    const before = this.opened.get(path)?.clip;
    const same =
      before &&
      before.contentKey === clip.contentKey &&
      JSON.stringify(before.manifest) === JSON.stringify(clip.manifest) &&
      Buffer.from(before.times.buffer).equals(Buffer.from(clip.times.buffer));
    // Labels in a folder are read each time; those of a scene come with its drawing.
    const kept = same ? before : kind === 'scene' ? clip : { ...clip, labels: null };
    this.opened.set(path, { clip: kept, print: await fingerprint(place, kept) });
    return kept;
  }

  /** The clip with its labels as they are on disk now. */
  async clip(id: string, ports: OpenPorts): Promise<Clip> {
    const place = await this.place(id);
    const clip = await this.recording(id, ports);
    const { labels } = await labelsOnDisk(place, clip);
    return { ...clip, dir: place.name, labels };
  }

  /**
   * The camera kept here, else the default one.
   * @throws Problem for a file that is no camera, or that is not in this folder
   */
  async camera(): Promise<{ camera: Camera; kept: boolean }> {
    const file = join(this.root, CAMERA);
    if (!(await isThere(file))) return { camera: defaultCamera, kept: false };
    await this.refuseLinkedOut(file);
    return { camera: await readCamera(file), kept: true };
  }

  /** Settings files beside the camera, after those that a project holds as in use. */
  async settings(): Promise<SettingsFound> {
    const isOther = (name: string) =>
      name === CAMERA || name === 'clip.json' || /(?:^|\.)labels\.json$/.test(name);
    const found = await settingsIn(this.root, isOther, (file) => this.refuseLinkedOut(file));
    const file = await this.project();
    const { sites } = file === null ? { sites: [] } : await readProject(file);
    const inUse = sites.flatMap(({ site, settings }) =>
      typeof settings === 'object' ? [{ name: `in use at ${site}`, settings }] : [],
    );
    return { ...found, settings: [...inUse, ...found.settings] };
  }
}

/** Names what a clip's frames hold. */
export function versionOf({ contentKey }: Pick<Clip, 'contentKey'>): string {
  return contentKey.slice(0, 16);
}

/**
 * What tells, at a glance, that a clip is no longer what it was when it was opened: its description's and its video's size
 * and time of change, or those of the folder of its stills, into which and out of which files may have been moved.
 */
async function fingerprint({ path, kind }: Place, { source }: Clip): Promise<string> {
  // Drawings are held against their seals while they are read.
  const files =
    kind === 'scene'
      ? [path]
      : [join(path, 'clip.json'), source.kind === 'video' ? source.file : source.folder];
  const facts = await Promise.all(files.map((file) => stat(file, { bigint: true }).catch(() => null)));
  return facts.map((info) => (info ? `${info.size} ${info.mtimeNs} ${info.ino}` : 'gone')).join();
}

/** Whether a path lies in a folder; both with all links followed. */
export function isWithin(folder: string, path: string): boolean {
  const from = relative(folder, path);
  return from !== '..' && !from.startsWith(`..${sep}`) && !isAbsolute(from);
}

async function listed(
  { id, name, path, kind, labelsFile, site: spot }: Place,
  check: () => Promise<void>,
): Promise<ClipListed> {
  try {
    await check();
    const { site, title } =
      kind === 'scene'
        ? await readScene(path)
        : await readJson(join(path, 'clip.json'), manifestSchema, "a clip's description");
    const labels = await labelsOnDisk({ path, labelsFile }, null);
    const visits = visitsSaid(labels.labels);
    return { id, name, site: site ?? spot, title: title ?? null, visits, problem: null };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return { id, name, site: spot, title: null, visits: null, problem: error.message };
  }
}

function ofSite(clip: Clip, site: string | null): Clip {
  if (site === null || clip.manifest.site !== undefined) return clip;
  return { ...clip, manifest: { ...clip.manifest, site } };
}
