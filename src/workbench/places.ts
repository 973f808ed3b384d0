import { readdir } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { ofProgram } from '../files/of-program.js';
import { type Project, pathIn } from '../files/project.js';
import { isThere } from '../files/regular.js';

/** The scene that a newcomer sees first. */
const FIRST = 'log-pile-calm';

/** Where a clip of the opened folder is. */
export interface Place {
  /** Its name; encoded where it stands in an address. */
  id: string;
  name: string;
  path: string;
  /** What is there: a clip folder, or a scene file, which stands for the clip it draws. */
  kind: 'folder' | 'scene';
  /** Where its labels are kept: in the clip; for a drawn one beside the camera. */
  labelsFile: string;
  /** The spot that a project counts it as; holds where the clip itself names none. */
  site: string | null;
}

/**
 * A place for each scene file of a folder.
 * @param root where the labels that the page makes of them are kept
 */
export async function scenesIn(folder: string, root: string): Promise<Place[]> {
  const names = (await readdir(ofProgram(folder))).filter((name) => name.endsWith('.json')).sort();
  const places = names.map((file) => {
    const name = file.replace(/\.json$/, '');
    return {
      id: name,
      name,
      path: join(folder, file),
      kind: 'scene' as const,
      labelsFile: join(root, `${name}.labels.json`),
      site: null,
    };
  });
  return places.sort((a, b) => Number(b.name === FIRST) - Number(a.name === FIRST));
}

/** The clip folders of a folder, by name. */
export async function clipsIn(folder: string): Promise<Place[]> {
  const places: Place[] = [];
  const entries = await readdir(folder, { withFileTypes: true });
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const path = join(folder, entry.name);
    // A link would lead out of the opened folder.
    if (!entry.isDirectory() || entry.name.startsWith('.') || !(await isThere(join(path, 'clip.json'))))
      continue;
    places.push({
      id: entry.name,
      name: entry.name,
      path,
      kind: 'folder',
      labelsFile: join(path, 'labels.json'),
      site: null,
    });
  }
  return places;
}

/** The clips that a project names, in its order, and then those of the folder that are in none of its spots. */
export async function projectsClips({ file, sites }: Project, folder: string): Promise<Place[]> {
  const places: Place[] = [];
  for (const { site, clips } of sites) {
    for (const path of clips) {
      const name = await pathIn(file, path);
      const isScene = path.endsWith('.json');
      const labelsFile = isScene
        ? join(folder, `${basename(path, '.json')}.labels.json`)
        : join(path, 'labels.json');
      places.push({ id: name, name, path, kind: isScene ? 'scene' : 'folder', labelsFile, site });
    }
  }
  const others = await clipsIn(folder);
  return [...places, ...others.filter(({ id }) => !places.some((place) => place.id === id))];
}

/** A folder that is itself a clip. */
export async function onlyClip(folder: string): Promise<Place[]> {
  const name = basename(resolve(folder)) || 'clip';
  return [
    { id: name, name, path: folder, kind: 'folder', labelsFile: join(folder, 'labels.json'), site: null },
  ];
}
