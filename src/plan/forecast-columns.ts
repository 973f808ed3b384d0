import { hint, Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';

/** The columns of a forecast that are used. */
export const COLUMNS = ['time', 'wind', 'beaufort', 'gust', 'rain', 'cloud'] as const;
export type Column = (typeof COLUMNS)[number];

/** What may stand behind a column's name in brackets; anything else is another unit. */
const UNITS: Record<Column, readonly string[]> = {
  time: [],
  wind: ['m/s', 'ms-1', 'm s-1'],
  gust: ['m/s', 'ms-1', 'm s-1'],
  beaufort: ['bft', 'beaufort'],
  rain: ['mm/h', 'mm'],
  cloud: ['%', 'percent'],
};
/** The unit of each column, as messages say it. */
export const UNIT_TOLD: Record<Column, string> = {
  time: 'RFC 3339 with a zone',
  wind: 'm/s',
  gust: 'm/s',
  beaufort: 'Beaufort numbers',
  rain: 'mm an hour',
  cloud: '%',
};

/**
 * Where each column stands in a header.
 * @returns the place of each column, the unit written behind its name, and titles that are none of them
 * @throws Problem 'bad-field' where one is missing, stands twice or has another unit
 */
export function columnsOf(
  header: readonly string[],
  file: string,
): { places: Map<Column, number>; units: Map<Column, string>; unknown: string[] } {
  const places = new Map<Column, number>();
  const units = new Map<Column, string>();
  const unknown: string[] = [];
  for (const [place, title] of header.entries()) {
    const [, name = '', unit = null] = /^\s*([^()[\]]*?)\s*(?:[([]\s*(.*?)\s*[)\]])?\s*$/.exec(title) ?? [];
    const column = COLUMNS.find((known) => known === name.toLowerCase());
    if (!column) {
      unknown.push(title);
      continue;
    }
    if (unit !== null && !UNITS[column].includes(unit.toLowerCase())) {
      throw new Problem(
        'bad-field',
        `${file}: line 1: column ${quoted(title)}: expected ${column} in ${UNIT_TOLD[column]}, found another unit; convert it, and call the column ${column}`,
      );
    }
    if (places.has(column)) {
      throw new Problem(
        'bad-field',
        `${file}: line 1: expected one column ${column}, found it twice; take one out`,
      );
    }
    places.set(column, place);
    if (unit !== null) units.set(column, unit.toLowerCase());
  }
  if (!places.has('time')) refuseMissing('time', unknown, file);
  if (!places.has('wind') && !places.has('beaufort')) refuseMissing('wind', unknown, file);
  if (places.has('wind') && places.has('beaufort')) {
    throw new Problem(
      'bad-field',
      `${file}: line 1: expected wind (m/s) or beaufort, found both; take one out`,
    );
  }
  return { places, units, unknown };
}

function refuseMissing(column: 'time' | 'wind', found: readonly string[], file: string): never {
  const expected = column === 'wind' ? 'wind (m/s) or beaufort' : 'time (RFC 3339 with a zone)';
  const others = found.length > 0 ? `, found ${found.map(quoted).join(', ')}` : '';
  const near = found.map((one) => hint(one, COLUMNS)).find((text) => text !== '') ?? '';
  throw new Problem(
    'bad-field',
    `${file}: line 1: expected a header with a column ${expected}${others}${near}; write the names of the columns into the first line, with commas between`,
  );
}
