import { createHash } from 'node:crypto';
import { basename, resolve } from 'node:path';
import { Problem } from '../base/problem.js';
import type { FoundPhoto } from '../clip/photo-folder.js';
import { exchange } from '../files/exchange.js';
import { readText } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { marksCsv, marksIn } from '../jobs/evening/marks.js';
import type { Seen } from '../outing/evening/photo.js';
import type { MarksState } from './evening-protocol.js';

type Photos = readonly Pick<FoundPhoto, 'name'>[];

/** Marks as they are on disk now. @throws Problem for whatever is wrong with them */
export async function marksOnDisk(file: string, photos: Photos): Promise<MarksState> {
  const { others: _, ...state } = await read(file, photos);
  return state;
}

async function read(file: string, photos: Photos): Promise<MarksState & { others: string | null }> {
  const names = { file: basename(file), key: digest(resolve(file)) };
  if (!(await isThere(file))) return { marks: [], revision: '', ...names, others: null };
  const text = await readText(file, 'marks of an evening');
  let others: string | null = null;
  const marks = marksIn(text, file, photos, (line) => {
    others = line;
  });
  return { marks: [...marks], revision: digest(text), ...names, others };
}

/**
 * Writes marks unless those on disk are not what `base` names any more, whoever else writes them at the same time.
 * @returns what is on disk then, and whether that is what was given
 * @throws Problem for marks of photos that are not there, a file that holds more than marks, or cannot be written
 */
export async function writeMarks(
  file: string,
  photos: Photos,
  marks: ReadonlyMap<string, Seen>,
  base: string,
): Promise<MarksState & { written: boolean }> {
  const names = new Set(photos.map(({ name }) => name));
  const stranger = [...marks.keys()].find((name) => !names.has(name));
  if (stranger !== undefined) {
    throw new Problem('file-missing', `there is no photo ${stranger} any more; open this evening again`);
  }
  let state: MarksState | undefined;
  const written = await exchange(file, async () => {
    const { others, ...there } = await read(file, photos);
    state = there;
    if (there.revision !== base) return null;
    if (others !== null) {
      throw new Problem(
        'file-unwritable',
        `${file}: this file holds columns of its own, which would be lost; take them out, or move the file away`,
      );
    }
    const text = marksCsv(photos, marks);
    state = { ...there, marks: [...marks], revision: digest(text) };
    return text;
  });
  return { ...state!, written };
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
