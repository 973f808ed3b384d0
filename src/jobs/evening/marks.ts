import { plural } from '../../base/figures.js';
import { hint, Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import type { FoundPhoto } from '../../clip/photo-folder.js';
import { type CsvRow, csvRows } from '../../files/read-csv.js';
import { readText } from '../../files/read-json.js';
import { marksFile, plainName } from '../../outing/evening/marks-file.js';
import { type Seen, seenWords } from '../../outing/evening/photo.js';

const EXPECTED = 'marks of an evening, CSV with the header photo,seen';
/** A record of a name alone. */
const SEPARATORS = [',', ';', '\t'];

/**
 * Reads what a person saw in photos: CSV with a header, photo (the file's name, with folders where it lies in one) and seen
 * (animal, nothing, person, or nothing at all for a photo not looked at yet). Other columns are told of and left alone;
 * commas, semicolons or tabs, as spreadsheets write them. Marks of photos that are gone are told of in one line.
 * @returns for each photo that has one, its mark, by the photo's name
 * @throws Problem naming file and line; for marks of none of these photos too
 */
export async function readMarks(
  file: string,
  photos: readonly Pick<FoundPhoto, 'name'>[],
  onWarning: (line: string) => void,
): Promise<Map<string, Seen>> {
  const { marks, gone, stray } = marksIn(await readText(file, EXPECTED), file, photos, onWarning);
  if (stray !== null) throw stray;
  if (gone.length > 0) {
    const [{ name, line }] = gone as [Gone, ...Gone[]];
    onWarning(
      `${goneText(file, gone.length)}, the first in line ${line} (${quoted(name)}); a name that was mistyped is to be mended`,
    );
  }
  return marks;
}

/** A mark of a photo that is not there. */
export interface Gone {
  /** As it stands in the file. */
  name: string;
  seen: Seen;
  line: number;
}

export interface MarksFound {
  /** By the photo's name. */
  marks: Map<string, Seen>;
  /** Of photos that were deleted, or whose names were mistyped. */
  gone: Gone[];
  /** What to tell where rows name photos, and none of them is there: the file is hardly of this folder. */
  stray: Problem | null;
}

/** One line on marks that count for nothing. */
export function goneText(file: string, count: number): string {
  return `${file}: marks of ${plural(count, 'photo that is', 'photos that are')} not there any more are left as they are`;
}

/** As `readMarks`, of a text that stands in that file; whose photos are gone is left to the caller. */
export function marksIn(
  text: string,
  file: string,
  photos: readonly Pick<FoundPhoto, 'name'>[],
  onWarning: (line: string) => void,
): MarksFound {
  const [head, ...rows] = rowsOf(text, file);
  if (!head) throw new Problem('bad-field', `${file}: the file is empty; expected ${EXPECTED}`);
  const columns = columnsOf(head, file, onWarning);
  const said = rows.filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  const names = said.map(({ cells }) => cells[columns.photo] ?? '');
  const { find, strange } = finder(photos, file, names);
  const marks = new Map<string, { seen: Seen; line: number }>();
  const gone: Gone[] = [];
  let stray: Problem | null = null;
  let isOfThese = false;
  for (const { line, cells } of said) {
    if (cells.length !== head.cells.length) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: expected ${head.cells.length} columns as in the header, found ${cells.length}; mend the row (a name with a separator in it stands in quotation marks)`,
      );
    }
    const cell = cells[columns.photo]!;
    const name = find(cell, line);
    const seen = seenOf(cells[columns.seen]!, file, line);
    if (name === null) {
      stray ??= strange(cell, line);
      if (seen !== null) gone.push({ name: cell, seen, line });
      continue;
    }
    isOfThese = true;
    if (seen === null) continue;
    const before = marks.get(name);
    if (before && before.seen !== seen) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: ${quoted(name)}: expected one mark for each photo, found ${seen} here and ${before.seen} in line ${before.line}; keep one of them`,
      );
    }
    if (!before) marks.set(name, { seen, line });
  }
  return {
    marks: new Map([...marks].map(([name, { seen }]) => [name, seen])),
    gone,
    stray: isOfThese ? null : stray,
  };
}

/**
 * Marks as a file: a row a photo, those without a mark ready to be filled in.
 * @param gone what stays of photos that are not there any more, after all others
 */
export function marksCsv(
  photos: readonly Pick<FoundPhoto, 'name'>[],
  marks: ReadonlyMap<string, Seen>,
  gone: readonly Pick<Gone, 'name' | 'seen'>[] = [],
): string {
  const names = [...photos, ...gone].map(({ name }) => name);
  return marksFile(names, (photo) => gone[photo - photos.length]?.seen ?? marks.get(names[photo]!) ?? null);
}

function rowsOf(text: string, file: string): CsvRow[] {
  const firstLine = /^[^\r\n]*/.exec(text)![0];
  const delimiter = SEPARATORS.find((one) => firstLine.includes(one)) ?? ',';
  return csvRows(
    text,
    { delimiter },
    (where) =>
      new Problem(
        'bad-field',
        `${file}: ${where}expected ${EXPECTED}, found a quotation mark out of place; a name that holds one stands in quotation marks, its own doubled`,
      ),
  );
}

function columnsOf(
  { cells }: CsvRow,
  file: string,
  onWarning: (line: string) => void,
): { photo: number; seen: number } {
  const names = cells.map((cell) => cell.trim().toLowerCase());
  const place = (wanted: string) => {
    const at = names.indexOf(wanted);
    if (at >= 0 && names.indexOf(wanted, at + 1) < 0) return at;
    const found = at < 0 ? quoted(cells.join(',')) : 'it twice';
    throw new Problem(
      'bad-field',
      `${file}: line 1: expected a column called ${wanted} in the header, found ${found}; the first line is photo,seen`,
    );
  };
  const columns = { photo: place('photo'), seen: place('seen') };
  const others = names.filter((name) => name !== 'photo' && name !== 'seen' && name !== '');
  if (others.length > 0)
    onWarning(`${file}: columns that say nothing here were left alone: ${others.join(', ')}`);
  return columns;
}

/**
 * Gives for what stands in a row the name of the photo that is meant, null for one that is not there.
 * @param cells of all rows
 */
function finder(
  photos: readonly Pick<FoundPhoto, 'name'>[],
  file: string,
  cells: readonly string[],
): { find: (cell: string, line: number) => string | null; strange: (cell: string, line: number) => Problem } {
  const whole = new Map<string, string>();
  const last = new Map<string, string[]>();
  for (const { name } of photos) {
    // The same letters may be written in two ways, which differ between systems.
    for (const known of [name.normalize(), plainName(name).normalize()]) {
      if (!whole.has(known)) whole.set(known, name);
    }
    const base = name.slice(name.lastIndexOf('/') + 1).normalize();
    last.set(base, [...(last.get(base) ?? []), name]);
  }
  const names = new Set(photos.map(({ name }) => name));
  const tidied = (cell: string) => cell.trim().normalize().replace(/^\.\//, '');
  const wholly = (cell: string): string | undefined => {
    if (names.has(cell)) return cell;
    // Blanks are part of a name where it has them.
    const exact = cell.normalize().replace(/^\.\//, '');
    const tidy = tidied(cell);
    return whole.get(exact) ?? whole.get(tidy) ?? whole.get(tidy.replaceAll('\\', '/'));
  };
  const named = new Set(cells.map(wholly));
  const find = (cell: string, line: number): string | null => {
    const found = wholly(cell);
    if (found !== undefined) return found;
    const same = last.get(tidied(cell)) ?? [];
    // Where the file names such a photo with its folder, one without a folder was another.
    if (same.some((name) => named.has(name))) return null;
    if (same.length === 1) return same[0]!;
    if (same.length > 1) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: ${quoted(cell)}: expected a name of one photo, found ${same.length} called so (${quoted(same[0]!)}, ${quoted(same[1]!)}); give the folder too`,
      );
    }
    return null;
  };
  const strange = (cell: string, line: number) =>
    new Problem(
      'bad-field',
      `${file}: line ${line}: ${quoted(cell)}: expected the name of a photo in the folder, found none called so${hintAmong(tidied(cell), names)}; mend the name, take the row out, or give the folder these marks are of`,
    );
  return { find, strange };
}

/** So many names are looked through for one that was mistyped. */
const MOST_TRIED = 5000;

function hintAmong(name: string, names: ReadonlySet<string>): string {
  return names.size > MOST_TRIED ? '' : hint(name, [...names]);
}

function seenOf(cell: string, file: string, line: number): Seen | null {
  const word = cell.trim().toLowerCase();
  if (word === '') return null;
  const known = seenWords.find((one) => one === word);
  if (known) return known;
  throw new Problem(
    'bad-field',
    `${file}: line ${line}: seen: expected ${seenWords.join(', ')} or an empty cell, found ${quoted(cell)}${hint(word, seenWords)}`,
  );
}
