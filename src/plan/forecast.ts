import { plural } from '../base/figures.js';
import { hint, Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { beaufortOf } from '../weather/wind/beaufort.js';
import { type Instant, parseInstant } from './instant.js';

/** A CSV file cut into cells: its header, and every row with the line it begins in. */
export interface ForecastTable {
  header: readonly string[];
  rows: readonly { line: number; cells: readonly string[] }[];
}

/** What is foretold from one instant on, for as long as a step. */
export interface ForecastRow {
  at: Instant;
  /** On the Beaufort scale, not rounded; gusts counted in. */
  wind: number;
  /** mm/h; null: not said. */
  rain: number | null;
  /** Share of the sky, 0 to 1; null: not said. */
  cloud: number | null;
}

export interface Forecast {
  rows: ForecastRow[];
  /** Hours from row to row. */
  step: 1 | 3;
  /** A line each for what the user should know. */
  notes: string[];
}

const COLUMNS = ['time', 'wind', 'beaufort', 'gust', 'rain', 'cloud'] as const;
type Column = (typeof COLUMNS)[number];

/** What may stand behind a column's name in brackets; anything else is another unit. */
const UNITS: Record<Column, readonly string[]> = {
  time: [],
  wind: ['m/s', 'ms-1', 'm s-1'],
  gust: ['m/s', 'ms-1', 'm s-1'],
  beaufort: ['bft', 'beaufort'],
  rain: ['mm/h', 'mm'],
  cloud: ['%', 'percent'],
};
const UNIT_TOLD: Record<Column, string> = {
  time: 'RFC 3339 with a zone',
  wind: 'm/s',
  gust: 'm/s',
  beaufort: 'Beaufort numbers',
  rain: 'mm an hour',
  cloud: '%',
};

/** Nothing above it is foretold for a place where a camera hangs; most often another unit was meant. */
const MOST: Record<Exclude<Column, 'time'>, number> = {
  wind: 45,
  gust: 80,
  beaufort: 12,
  rain: 150,
  cloud: 100,
};

const KMH = '; is it in another unit, such as km/h? Convert it';
const OTHER_UNIT: Partial<Record<Column, string>> = { wind: KMH, gust: KMH, beaufort: KMH };

/** Days that a plan may reach ahead, in rows of an hour. */
const MOST_ROWS = 31 * 24;
const HOUR = 3_600_000;

/**
 * Gusts of three standard deviations above the mean wind, at the turbulence of open ground with hedges far apart: 1 / ln(z/z0)
 * with z0 0.10 m at z 10 m is 0.217 (the form of EN 1991-1-4, from memory; three of them are an assumption). Simulated wind
 * has gusts of its own, so a gust is counted as the mean wind that would bring it along.
 */
export const GUST_FACTOR = 1 + 3 / Math.log(10 / 0.1);

/**
 * What a table says of the weather, hour by hour.
 * @param file for messages
 * @throws Problem 'bad-field' or 'bad-times', naming the line
 */
export function forecastOf({ header, rows }: ForecastTable, file: string): Forecast {
  const { places, units, unknown } = columnsOf(header, file);
  if (rows.length === 0) {
    throw new Problem(
      'bad-field',
      `${file}: expected a row for each hour below the header, found none; is the forecast cut off?`,
    );
  }
  if (rows.length > MOST_ROWS) {
    throw new Problem(
      'bad-field',
      `${file}: expected at most ${MOST_ROWS} rows (31 days by the hour), found ${rows.length}; cut off what is farther away`,
    );
  }
  const read = rows.map((row, i) => rowOf(row, places, { file, row: i + 1, columns: header.length }));
  refuseOtherUnits(read, file);
  const step = stepOf(read, file);
  // What falls from row to row, not in an hour.
  const isSum = step > 1 && units.get('rain') === 'mm';
  return {
    rows: read.map(({ line: _, speed: _speed, gust: _gust, ...row }) => ({
      ...row,
      rain: isSum && row.rain !== null ? row.rain / step : row.rain,
    })),
    step,
    notes: [
      ...(unknown.length > 0
        ? [
            `${file}: ${unknown.map(quoted).join(', ')}: no column that is used here, left alone; used are ${COLUMNS.join(', ')}`,
          ]
        : []),
      ...(places.has('cloud')
        ? []
        : [`${file}: no column 'cloud', so the sky is taken as half-way between clear and thick cloud`]),
      ...(places.has('rain') ? [] : [`${file}: no column 'rain', so every hour is taken as dry`]),
      ...(isSum
        ? [
            `${file}: rain is in mm and rows are ${step} hours apart, so it is taken as what falls in ${step} hours, a third of it in each; where it is mm an hour, call the column rain (mm/h)`,
          ]
        : []),
      ...windNotes(read, file),
    ],
  };
}

function columnsOf(
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

interface Where {
  file: string;
  row: number;
  columns: number;
}

interface ReadRow extends ForecastRow {
  line: number;
  /** m/s; null: not said. */
  speed: number | null;
  gust: number | null;
}

function rowOf(
  { line, cells }: ForecastTable['rows'][number],
  places: ReadonlyMap<Column, number>,
  { file, row, columns }: Where,
): ReadRow {
  const where = `${file}: line ${line} (row ${row})`;
  if (cells.length !== columns) {
    throw new Problem(
      'bad-field',
      `${where}: expected ${columns} cells as in the header, found ${cells.length}; numbers are written with a point (2.5), and cells parted by one comma`,
    );
  }
  const cell = (column: Column) => {
    const place = places.get(column);
    return place === undefined ? null : cells[place]!.trim();
  };
  const number = (column: Exclude<Column, 'time'>): number | null => {
    const text = cell(column);
    if (text === null) return null;
    const comma = /^-?\d+,\d+$/.test(text);
    const value = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
    if (!Number.isFinite(value)) {
      const fix = comma
        ? `write ${text.replace(',', '.')}`
        : `write a number${text === '' ? ', 0 for none' : ''}`;
      throw new Problem(
        'bad-field',
        `${where}: ${column}: expected a number (${UNIT_TOLD[column]}), found ${text === '' ? 'nothing' : quoted(text)}; ${fix}`,
      );
    }
    if (value < 0 || value > MOST[column]) {
      throw new Problem(
        'bad-field',
        `${where}: ${column}: expected ${UNIT_TOLD[column]} from 0 to ${MOST[column]}, found ${text}${value < 0 ? '' : (OTHER_UNIT[column] ?? '')}`,
      );
    }
    return value;
  };
  const speed = number('wind');
  const gust = number('gust');
  const mean = speed === null ? (number('beaufort') ?? 0) : beaufortOf(speed);
  const cloud = number('cloud');
  return {
    line,
    speed,
    gust,
    at: parseInstant(cell('time') ?? '', where),
    wind: Math.max(mean, gust === null ? 0 : beaufortOf(gust / GUST_FACTOR)),
    rain: number('rain'),
    cloud: cloud === null ? null : cloud / 100,
  };
}

/** From so many m/s it is a hurricane (Beaufort 12), or a near gale (7): WMO No. 8, at 10 m. */
const [HURRICANE, NEAR_GALE] = [32.7, 13.9];

/** What a forecast may hold and hardly ever does: most often another unit was meant, or a column was mistaken. */
function windNotes(rows: readonly ReadRow[], file: string): string[] {
  const speeds = rows.flatMap(({ speed }) => speed ?? []);
  const hurricane = rows.find(({ speed }) => (speed ?? 0) >= HURRICANE);
  const gales = speeds.filter((speed) => speed >= NEAR_GALE).length;
  const weak = rows.filter(({ speed, gust }) => speed !== null && gust !== null && gust < speed);
  const isStorm = hurricane !== undefined || (gales > 0 && 2 * gales > speeds.length);
  const found = hurricane
    ? `a mean wind of ${hurricane.speed} m/s, a hurricane, in line ${hurricane.line}`
    : `a near gale or more in ${gales} of ${plural(speeds.length, 'row')}`;
  return [
    ...(isStorm
      ? [`${file}: wind: ${found}; is it in km/h? Then divide it by 3.6, because it is taken as m/s`]
      : []),
    ...(weak[0]
      ? [
          `${file}: gust: less than the wind in ${plural(weak.length, 'row')}, first in line ${weak[0].line}, which cannot be; there the wind counts. Are both in m/s?`,
        ]
      : []),
  ];
}

/** A cover of cloud that never leaves 0 to 1 and is not always one of the two is a share, not per cent. */
function refuseOtherUnits(rows: readonly ReadRow[], file: string): void {
  const cover = rows.flatMap(({ cloud }) => (cloud === null ? [] : [cloud * 100]));
  const between = cover.findIndex((value) => value > 0 && value < 1);
  if (between < 0 || cover.some((value) => value > 1)) return;
  throw new Problem(
    'bad-field',
    `${file}: line ${rows[between]!.line} (row ${between + 1}): cloud: expected % from 0 to 100, found nothing above 1 in the whole column; multiply it by 100`,
  );
}

/** Rows an hour apart, or three; nothing else, for an hour that is missing would be planned for by nobody. */
function stepOf(rows: readonly ReadRow[], file: string): 1 | 3 {
  const gaps = rows.slice(1).map(({ at }, i) => at.ms - rows[i]!.at.ms);
  const step = gaps[0] === 3 * HOUR ? 3 : 1;
  // Rows that changed places leave gaps before and behind, in which nothing is missing.
  const back = gaps.findIndex((gap) => gap < 0);
  const wrong = back >= 0 ? back : gaps.findIndex((gap) => gap !== step * HOUR);
  if (wrong < 0) return step;
  const [before, here] = [rows[wrong]!, rows[wrong + 1]!];
  const gap = gaps[wrong]!;
  const where = `${file}: line ${here.line} (row ${wrong + 2})`;
  if (gap === 0) {
    throw new Problem(
      'bad-times',
      `${where}: expected each time once, found ${here.at.text}, which is the instant of line ${before.line}; take one out`,
    );
  }
  if (gap < 0) {
    throw new Problem(
      'bad-times',
      `${where}: expected times that rise, found ${here.at.text} after ${before.at.text}; put the rows in order`,
    );
  }
  const hours = gap / HOUR;
  const apart =
    hours >= 1 ? plural(Number(hours.toFixed(2)), 'hour') : plural(Number((60 * hours).toFixed(1)), 'minute');
  const every = wrong === 0 ? 'every hour, or every three' : `every ${step === 1 ? 'hour' : '3 hours'}`;
  throw new Problem(
    'bad-times',
    `${where}: expected a row ${every}, found ${here.at.text} ${apart} after ${before.at.text}; add the rows that are missing, or take out those between`,
  );
}
