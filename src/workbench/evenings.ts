import { readdir, realpath } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { Problem } from '../base/problem.js';
import { formatOfName } from '../clip/formats.js';
import { type FoundPhoto, type PhotoFolder, photosIn } from '../clip/photo-folder.js';
import { nameAfter } from '../files/names.js';
import { type Project, pathIn, readProject, sitesNamed } from '../files/project.js';
import { isThere } from '../files/regular.js';
import type { CameraGiven } from '../jobs/open.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { EveningListed } from './evening-protocol.js';
import { isWithin, type Workspace } from './workspace.js';

/**
 * What the marks of an evening are called, beside its folder: of monday/DCIM, monday/DCIM-marks.csv. Where the folder lies in the
 * opened one itself, `perchmark evening` calls them so too.
 * @param evening its path, with / between folders
 */
export function marksName(evening: string): string {
  const at = evening.lastIndexOf('/') + 1;
  return `${evening.slice(0, at)}${nameAfter(evening.slice(at), '-marks.csv')}`;
}

/** Where the photos of an evening are, and what belongs to them. */
export interface EveningPlace {
  /** Its path in the opened folder, with / between folders. */
  id: string;
  folder: string;
  marksFile: string;
  /** A file of marks that may be of this evening, or of another whose folder is called alike; null where there is none. */
  unclearMarks: string | null;
  site: string | null;
  /** What was promised for it, where a project says so. */
  promised: string | null;
  camera: CameraGiven | undefined;
}

/** Photos lie in folders of a card so deep. */
const DEEPEST = 2;
const FORMATS = ['JPEG', 'PNG'];

/** The evenings of an opened folder, and the photos of those that were opened. */
export class Evenings {
  private readonly found = new Map<string, { place: EveningPlace; looking: Promise<PhotoFolder> }>();

  constructor(private readonly workspace: Workspace) {}

  /** Folders with photos that are no clips; those that a project names first. The demo and a clip by itself have none. */
  async places(): Promise<EveningPlace[]> {
    const { workspace } = this;
    if (workspace.named === null || (await isThere(join(workspace.root, 'clip.json')))) return [];
    const file = await workspace.project();
    const places = file === null ? [] : await projects(file, workspace.root);
    for (const entry of await readdir(workspace.root, { withFileTypes: true })) {
      const folder = join(workspace.root, entry.name);
      // A link would lead out of the opened folder.
      if (!entry.isDirectory() || entry.name.startsWith('.')) continue;
      // One that holds an evening of the project would show its photos a second time.
      if (places.some(({ id }) => `${id}/`.startsWith(`${entry.name}/`))) continue;
      if (!(await holdsPhotos(folder, 0))) continue;
      places.push({
        id: entry.name,
        folder,
        marksFile: join(workspace.root, marksName(entry.name)),
        unclearMarks: null,
        site: null,
        promised: null,
        camera: undefined,
      });
    }
    return places;
  }

  async list(): Promise<EveningListed[]> {
    return Promise.all(
      (await this.places()).map(async (place) => {
        const { id, site, marksFile, promised } = place;
        const problem = await this.refuseElsewhere(place).then(
          () => null,
          (error) => {
            if (error instanceof Problem) return error.message;
            throw error;
          },
        );
        const marked = problem === null && (await isThere(marksFile));
        return {
          id,
          marked,
          site,
          promised: promised === null ? null : await pathIn(join(this.workspace.root, 'x'), promised),
          problem,
        };
      }),
    );
  }

  /** @throws Problem where there is none of that name, or it lies outside of the opened folder */
  async place(id: string): Promise<EveningPlace> {
    const place = (await this.places()).find((one) => one.id === id);
    if (!place) {
      throw new Problem(
        'file-missing',
        `there are no photos in ${id} of this folder any more; choose another evening`,
      );
    }
    await this.refuseElsewhere(place);
    return place;
  }

  /** Its photos as they are now. @throws Problem, the signal's reason */
  look(place: EveningPlace, ports: Pick<OpenPorts, 'onProgress' | 'signal'>): Promise<PhotoFolder> {
    const { id } = place;
    const looking = photosIn(place.folder, ports);
    this.found.set(id, { place, looking });
    looking.catch(() => {
      if (this.found.get(id)?.looking === looking) this.found.delete(id);
    });
    return looking;
  }

  /** Its photos as they were when they were looked at last. @throws Problem */
  async known(id: string): Promise<PhotoFolder> {
    return this.found.get(id)?.looking ?? this.look(await this.place(id), { onProgress: () => undefined });
  }

  /** Where it is and its marks are, as it was when it was looked at last: no other folder is looked into. @throws Problem */
  async knownPlace(id: string): Promise<EveningPlace> {
    const found = this.found.get(id);
    if (!found) return this.place(id);
    await this.refuseElsewhere(found.place);
    return found.place;
  }

  /** One of its photos by its name. @throws Problem where there is none, or a link leads elsewhere */
  async photo(id: string, name: string): Promise<FoundPhoto> {
    const { photos } = await this.known(id);
    const photo = photos.find((one) => one.name === name);
    if (photo) {
      await this.workspace.refuseLinkedOut(photo.file);
      return photo;
    }
    throw new Problem('file-missing', `there is no photo ${name} in ${id}; open this evening again`);
  }

  private async refuseElsewhere({ folder, marksFile, promised }: EveningPlace): Promise<void> {
    const home = await realpath(this.workspace.root);
    for (const path of [folder, dirname(marksFile), ...(promised === null ? [] : [promised])]) {
      const real = await realpath(path).catch(() => null);
      if (real === null || isWithin(home, real)) continue;
      throw new Problem(
        'leaves-folder',
        `${path}: this lies outside of the opened folder, in which alone the page reads photos and writes marks; move it there, or open the folder that it is in`,
      );
    }
    await this.workspace.refuseLinkedOut(marksFile);
  }
}

/** What a project says of evenings; the latest first. */
async function projects(file: string, root: string): Promise<EveningPlace[]> {
  const project = await readProject(file);
  const places = project.evenings.map(async (evening): Promise<EveningPlace> => {
    const { folder, site, promised } = evening;
    const only = site === undefined && project.sites.length === 1;
    const known = site !== undefined || only;
    const id = await pathIn(file, folder);
    return {
      id,
      folder,
      ...(await marksOf(evening, id, project, root)),
      site: site ?? null,
      promised: promised ?? (known ? (project.plans.at(-1) ?? null) : null),
      camera: site === undefined ? undefined : sitesNamed(project, site)[0]?.camera,
    };
  });
  return (await Promise.all(places)).reverse();
}

/** Where the marks of a project's evening are: where it says so, else beside its folder. */
async function marksOf(
  { folder, marks }: Project['evenings'][number],
  id: string,
  { evenings }: Project,
  root: string,
): Promise<Pick<EveningPlace, 'marksFile' | 'unclearMarks'>> {
  if (marks !== undefined) return { marksFile: marks, unclearMarks: null };
  const own = join(root, marksName(id));
  // Where the command line writes them, and this page did: in the opened folder, by the name of the last folder alone.
  const name = basename(folder);
  const other = join(root, marksName(name));
  const isAnothers =
    (await isThere(join(root, name))) ||
    evenings.some((one) => one.marks !== undefined && resolve(one.marks) === resolve(other));
  if (own === other || isAnothers || (await isThere(own)) || !(await isThere(other)))
    return { marksFile: own, unclearMarks: null };
  const alike = evenings.filter((one) => basename(one.folder) === name);
  return alike.length === 1
    ? { marksFile: other, unclearMarks: null }
    : { marksFile: own, unclearMarks: other };
}

async function holdsPhotos(folder: string, depth: number): Promise<boolean> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  if (entries.some(({ name }) => name === 'clip.json')) return false;
  const isPhoto = (name: string) => !name.startsWith('.') && FORMATS.includes(formatOfName(name) ?? '');
  if (entries.some((entry) => entry.isFile() && isPhoto(entry.name))) return true;
  if (depth === DEEPEST) return false;
  for (const entry of entries) {
    if (entry.isDirectory() && (await holdsPhotos(join(folder, entry.name), depth + 1))) return true;
  }
  return false;
}
