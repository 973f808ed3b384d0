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
 * commas, semicolons or tabs, as spreadsheets write them.
 * @returns for each photo that has one, its mark, by the photo's name
 * @throws Problem naming file and line
 */
export async function readMarks(
  file: string,
  photos: readonly Pick<FoundPhoto, 'name'>[],
  onWarning: (line: string) => void,
): Promise<Map<string, Seen>> {
  return marksIn(await readText(file, EXPECTED), file, photos, onWarning);
}

/** As `readMarks`, of a text that stands in that file. */
export function marksIn(
  text: string,
  file: string,
  photos: readonly Pick<FoundPhoto, 'name'>[],
  onWarning: (line: string) => void,
): Map<string, Seen> {
  const [head, ...rows] = rowsOf(text, file);
  if (!head) throw new Problem('bad-field', `${file}: the file is empty; expected ${EXPECTED}`);
  const columns = columnsOf(head, file, onWarning);
  const find = finder(photos, file);
  const marks = new Map<string, { seen: Seen; line: number }>();
  for (const { line, cells } of rows) {
    if (cells.every((cell) => cell.trim() === '')) continue;
    if (cells.length !== head.cells.length) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: expected ${head.cells.length} columns as in the header, found ${cells.length}; mend the row (a name with a separator in it stands in quotation marks)`,
      );
    }
    const name = find(cells[columns.photo]!, line);
    const seen = seenOf(cells[columns.seen]!, file, line);
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
  return new Map([...marks].map(([name, { seen }]) => [name, seen]));
}

/** Marks as a file: a row a photo, those without a mark ready to be filled in. */
export function marksCsv(
  photos: readonly Pick<FoundPhoto, 'name'>[],
  marks: ReadonlyMap<string, Seen>,
): string {
  const names = photos.map(({ name }) => name);
  return marksFile(names, (photo) => marks.get(names[photo]!) ?? null);
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

/** Gives for what stands in a row the name of the photo that is meant. */
function finder(
  photos: readonly Pick<FoundPhoto, 'name'>[],
  file: string,
): (cell: string, line: number) => string {
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
  return (cell, line) => {
    if (names.has(cell)) return cell;
    // Blanks are part of a name where it has them.
    const exact = cell.normalize().replace(/^\.\//, '');
    const tidy = cell.trim().normalize().replace(/^\.\//, '');
    const found = whole.get(exact) ?? whole.get(tidy) ?? whole.get(tidy.replaceAll('\\', '/'));
    if (found !== undefined) return found;
    const same = last.get(tidy) ?? [];
    if (same.length === 1) return same[0]!;
    if (same.length > 1) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: ${quoted(cell)}: expected a name of one photo, found ${same.length} called so (${quoted(same[0]!)}, ${quoted(same[1]!)}); give the folder too`,
      );
    }
    throw new Problem(
      'bad-field',
      `${file}: line ${line}: ${quoted(cell)}: expected the name of a photo in the folder, found none called so${hintAmong(tidy, names)}; mend the name, take the row out, or give the folder these marks are of`,
    );
  };
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
