import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';
import { type Manifest, manifestSchema } from '../clip/manifest.js';
import { findStills, meansStills } from '../clip/pattern.js';
import { readJson, readText } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { readScene } from '../scene/film.js';
import { keyOf } from '../store/key.js';

/** A clip as whoever submits sees it: none of its frames is read. */
export interface ClipPrint {
  path: string;
  site: string | null;
  /** Other where anything of the clip is: its description, its labels, sizes and times of change of its files. */
  print: string;
  /**
   * The same, of times of change the whole seconds alone, for machines may see finer ones otherwise; null of a clip that cannot be
   * opened.
   */
  seen: string | null;
}

/** In nanoseconds. */
const SECOND = 1_000_000_000n;

/** What can be told of a clip without reading it; of one that cannot be opened, that. Whoever does its job says why. */
export async function printOf(path: string): Promise<ClipPrint> {
  try {
    if (path.endsWith('.json')) {
      const scene = await readScene(path);
      const print = keyOf('scene', scene);
      return { path, site: scene.site, print, seen: print };
    }
    const file = join(path, 'clip.json');
    const text = await readText(file, "a clip's description");
    const manifest = parseJson(text, file, manifestSchema, "a clip's description");
    const labels = join(path, 'labels.json');
    const said = (await isThere(labels)) ? await readText(labels, 'labels of a clip') : null;
    const files = await factsOf(path, manifest);
    const coarse = files.map(({ size, changed, name }) => `${size} ${changed / SECOND} ${name}`);
    const facts = files.map(({ size, changed, name }) => `${size} ${changed} ${name}`);
    return {
      path,
      site: manifest.site ?? null,
      print: keyOf('clip', text, said, facts),
      seen: keyOf('clip', text, said, coarse),
    };
  } catch (error) {
    if (error instanceof Problem || (error as NodeJS.ErrnoException).code !== undefined) {
      return {
        path,
        site: await siteOf(path),
        print: keyOf('unreadable', (error as Error).message),
        seen: null,
      };
    }
    throw error;
  }
}

interface Facts {
  size: bigint;
  /** When, nanoseconds since 1970. */
  changed: bigint;
  name: string;
}

/** Of each file of the recording; of a link, those of what it leads to. */
async function factsOf(dir: string, { frames }: Manifest): Promise<Facts[]> {
  const { folder, names } = meansStills(frames)
    ? await findStills(dir, frames)
    : { folder: dir, names: [frames] };
  const facts: Facts[] = [];
  for (const name of names) {
    const { size, mtimeNs } = await stat(join(folder, name), { bigint: true });
    facts.push({ size, changed: mtimeNs, name });
  }
  return facts;
}

async function siteOf(path: string): Promise<string | null> {
  const manifest = await readJson(join(path, 'clip.json'), manifestSchema, 'a clip').catch(() => null);
  return manifest?.site ?? null;
}
