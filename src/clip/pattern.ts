import { readdir, realpath } from 'node:fs/promises';
import { extname, isAbsolute, join, relative, sep } from 'node:path';
import { hint, Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { formatOfName, stillEndings } from './formats.js';
import { matchesWildcard } from './wildcard.js';

/** Whether "frames" of a manifest means stills (a pattern, or one still by its ending) and not a video. */
export function meansStills(pattern: string): boolean {
  return isPattern(pattern) || formatOfName(pattern) !== undefined;
}

function isPattern(text: string): boolean {
  return /[*?]/.test(text);
}

/**
 * The stills that a manifest's pattern names.
 * @param dir the clip folder
 * @param pattern folder part taken as it is, file name with * and ?, or one file name
 * @returns names in natural order, and the folder that holds them
 * @throws Problem 'file-missing', 'leaves-folder', 'bad-field'
 */
export async function findStills(dir: string, pattern: string): Promise<{ folder: string; names: string[] }> {
  const manifest = join(dir, 'clip.json');
  refuseOutside(pattern, manifest);
  const cut = pattern.lastIndexOf('/') + 1;
  const folderPart = pattern.slice(0, cut);
  const namePart = pattern.slice(cut);
  if (isPattern(folderPart)) {
    throw new Problem(
      'bad-field',
      `${manifest}: frames: * and ? are understood in the file name only, found them in the folder part of ${quoted(pattern)}`,
    );
  }
  const folder = join(dir, folderPart);
  const present = await list(folder, manifest, pattern);
  await refuseLinkOutside(dir, folder, manifest);
  const matches = matcher(namePart);
  const names = present.filter(matches).sort(naturalOrder);
  if (names.length === 0) throw nothingFound(manifest, pattern, folderPart, namePart, present);
  const odd = names.find((name) => formatOfName(name) === undefined);
  if (odd !== undefined) {
    throw new Problem(
      'bad-field',
      `${manifest}: frames: ${quoted(pattern)} also names ${odd}, which is no still; expected a pattern for one of ${stillEndings.join(', ')}`,
    );
  }
  return { folder, names };
}

/**
 * Refuses a path that is absolute or climbs out by '..', or that some systems would take for absolute.
 * @throws Problem 'leaves-folder' or 'bad-field'
 */
export function refuseOutside(path: string, manifest: string): void {
  const climbs = path.split(/[\\/]/).includes('..');
  const leaves = climbs || isAbsolute(path) || /^([A-Za-z]:)?\\/.test(path) || /^[A-Za-z]:\//.test(path);
  if (!leaves && /^[A-Za-z]:/.test(path)) {
    throw new Problem(
      'bad-field',
      `${manifest}: frames: ${quoted(path)} begins as a place on another disk does on some systems; expected a name without a colon after its first letter; rename the file`,
    );
  }
  if (!leaves) return;
  throw new Problem(
    'leaves-folder',
    `${manifest}: frames: ${quoted(path)} leaves the clip folder; expected a path inside it, such as "frames/*.jpg"; move or copy the files there`,
  );
}

/**
 * Refuses a file or folder that a symbolic link takes out of the clip folder.
 * @throws Problem 'leaves-folder'
 */
export async function refuseLinkOutside(dir: string, path: string, manifest: string): Promise<void> {
  const [home, real] = await Promise.all([realpath(dir), realpath(path)]);
  const from = relative(home, real);
  if (from !== '..' && !from.startsWith(`..${sep}`) && !isAbsolute(from)) return;
  throw new Problem(
    'leaves-folder',
    `${manifest}: frames: ${path} is a link that leaves the clip folder (to ${real}); copy what it points to into the clip folder`,
  );
}

async function list(folder: string, manifest: string, pattern: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    throw new Problem(
      'file-missing',
      `${manifest}: frames: ${quoted(pattern)}: the folder ${folder} cannot be listed (${code ?? String(error)}); expected the folder that holds the frames`,
    );
  }
}

/** * and ? do not match a leading dot, so that hidden files stay out. */
function matcher(namePart: string): (name: string) => boolean {
  const pattern = [...namePart];
  const hiddenToo = namePart.startsWith('.');
  return (name) => (hiddenToo || !name.startsWith('.')) && matchesWildcard(pattern, [...name]);
}

function nothingFound(
  manifest: string,
  pattern: string,
  folderPart: string,
  namePart: string,
  present: readonly string[],
): Problem {
  const counts = new Map<string, number>();
  for (const name of present) {
    if (name.startsWith('.') || formatOfName(name) === undefined) continue;
    counts.set(extname(name), (counts.get(extname(name)) ?? 0) + 1);
  }
  const found = [...counts].sort((a, b) => b[1] - a[1]);
  const where = folderPart === '' ? 'the clip folder' : folderPart;
  let tail = `; ${where} holds no stills (${stillEndings.join(', ')})`;
  if (!isPattern(namePart) && found.length > 0) tail = hint(namePart, present) || tail;
  if (found.length > 0 && (isPattern(namePart) || tail === '')) {
    tail = `; ${found
      .map(
        ([ending, n]) =>
          `${n} ${n === 1 ? 'file ends' : 'files end'} in ${ending}: write "${folderPart}*${ending}"`,
      )
      .join(', ')}`;
  }
  return new Problem('file-missing', `${manifest}: frames: ${quoted(pattern)} matches no file${tail}`);
}

/**
 * The order a person expects, 9.jpg before 10.jpg: runs of digits by their value, all else by code unit; names that are
 * equal by this go by code unit alone.
 */
export function naturalOrder(a: string, b: string): number {
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    if (isDigit(a, i) && isDigit(b, j)) {
      const one = digits(a, i);
      const two = digits(b, j);
      if (one.value.length !== two.value.length) return one.value.length - two.value.length;
      if (one.value !== two.value) return one.value < two.value ? -1 : 1;
      i += one.length;
      j += two.length;
    } else {
      const difference = a.charCodeAt(i++) - b.charCodeAt(j++);
      if (difference !== 0) return difference;
    }
  }
  return a.length - i - (b.length - j) || (a < b ? -1 : a > b ? 1 : 0);
}

function isDigit(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code >= 48 && code <= 57;
}

/** The run of digits from here: its length, and its text without leading zeros. */
function digits(text: string, from: number): { length: number; value: string } {
  let to = from;
  while (isDigit(text, to)) to++;
  return { length: to - from, value: text.slice(from, to).replace(/^0+/, '') };
}
