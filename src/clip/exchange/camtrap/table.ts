import { hint, Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { type CsvStreamOptions, csvStream } from '../../../files/csv-stream.js';

/** One row of a table, by the names of its columns. */
export interface TableRow {
  /** The cell without blanks around it; empty where the table has no such column. */
  get(column: string): string;
  /** For messages: file, line and column. */
  at(column: string): string;
}

/**
 * The rows of a table of the standard, in whatever order its columns stand; columns that are not known are left alone.
 * @param required columns without which it is no such table
 * @param options.delimiter what parts the cells; another is tried, should it part nothing of the header
 * @throws Problem naming file and line
 */
export async function* tableRows(
  file: string,
  table: string,
  required: readonly string[],
  { delimiter: given = ',', ...options }: CsvStreamOptions,
): AsyncGenerator<TableRow> {
  const expected = `the table ${table} of Camtrap DP`;
  const delimiter = (await otherDelimiter(file, expected, given)) ?? given;
  let places: Map<string, number> | null = null;
  for await (const { line, cells } of csvStream(file, expected, { ...options, delimiter })) {
    if (!places) {
      places = placesOf(cells, file, expected, required);
      continue;
    }
    if (cells.length !== places.size) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: expected ${places.size} columns as in the header, found ${cells.length}; mend the row (a text with a comma in it stands in quotation marks)`,
      );
    }
    const known = places;
    yield {
      get: (column) => cells[known.get(column) ?? -1]?.trim() ?? '',
      at: (column) => `${file}: line ${line}: ${column}`,
    };
  }
  if (!places) throw new Problem('bad-field', `${file}: the file is empty; expected ${expected}`);
}

/** What parts the cells after all, where a spreadsheet saved the table by the custom of its country. */
async function otherDelimiter(
  file: string,
  expected: string,
  delimiter: string,
): Promise<string | undefined> {
  for await (const { cells } of csvStream(file, expected, { delimiter })) {
    const [only, ...others] = cells;
    if (others.length > 0) return undefined;
    return [',', ';', '\t'].find((one) => one !== delimiter && only?.includes(one));
  }
  return undefined;
}

function placesOf(
  head: readonly string[],
  file: string,
  expected: string,
  required: readonly string[],
): Map<string, number> {
  const places = new Map<string, number>();
  for (const [i, cell] of head.entries()) {
    const name = cell.trim();
    if (places.has(name)) {
      throw new Problem(
        'bad-field',
        `${file}: line 1: expected each column once, found ${quoted(name)} twice; take one of them out`,
      );
    }
    places.set(name, i);
  }
  const missing = required.find((column) => !places.has(column));
  if (missing === undefined) return places;
  throw new Problem(
    'bad-field',
    `${file}: line 1: expected a column called ${missing}, because this is to be ${expected}; found ${quoted(head.join(','))}${hint(missing, [...places.keys()])}`,
  );
}
