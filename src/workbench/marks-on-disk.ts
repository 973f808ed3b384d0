import { createHash } from 'node:crypto';
import { basename, resolve } from 'node:path';
import { Problem } from '../base/problem.js';
import type { FoundPhoto } from '../clip/photo-folder.js';
import { exchange } from '../files/exchange.js';
import { readText } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { type Gone, marksCsv, marksIn } from '../jobs/evening/marks.js';
import type { Seen } from '../outing/evening/photo.js';
import type { MarksState } from './evening-protocol.js';

type Photos = readonly Pick<FoundPhoto, 'name'>[];

/** Marks as they are on disk now, and of how many photos that are gone. @throws Problem for whatever is wrong with them */
export async function marksOnDisk(
  file: string,
  photos: Photos,
): Promise<{ state: MarksState; gone: number }> {
  const { others: _, gone, ...state } = await read(file, photos);
  return { state, gone: gone.length };
}

async function read(
  file: string,
  photos: Photos,
): Promise<MarksState & { others: string | null; gone: Gone[] }> {
  const names = { file: basename(file), key: digest(resolve(file)) };
  if (!(await isThere(file))) return { marks: [], revision: '', ...names, others: null, gone: [] };
  const text = await readText(file, 'marks of an evening');
  let others: string | null = null;
  const { marks, gone } = marksIn(text, file, photos, (line) => {
    others = line;
  });
  return { marks: [...marks], revision: digest(text), ...names, others, gone };
}

/**
 * Writes marks, and with them those of photos that are gone, unless those on disk are not what `base` names any more, whoever else writes them at the same time.
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
  const strangers = [...marks].flatMap(([name, seen]) => (names.has(name) ? [] : [{ name, seen }]));
  let state: MarksState | undefined;
  const written = await exchange(file, async () => {
    const { others, gone, ...there } = await read(file, photos);
    state = there;
    if (there.revision !== base) return null;
    if (others !== null) {
      throw new Problem(
        'file-unwritable',
        `${file}: this file holds columns of its own, which would be lost; take them out, or move the file away`,
      );
    }
    // A page that was opened before they went may still hold them.
    const stranger = strangers.find(({ name }) => !gone.some((one) => one.name === name));
    if (stranger) {
      throw new Problem(
        'file-missing',
        `there is no photo ${stranger.name} any more; open this evening again`,
      );
    }
    const kept = gone.filter(({ name }) => !marks.has(name));
    const text = marksCsv(photos, marks, [...kept, ...strangers]);
    state = { ...there, marks: [...marks], revision: digest(text) };
    return text;
  });
  return { ...state!, written };
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
