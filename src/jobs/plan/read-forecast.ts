import { CsvError, parse } from 'csv-parse/sync';
import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { readText } from '../../files/read-json.js';
import { type Forecast, type ForecastTable, forecastOf } from '../../plan/forecast.js';

/** A month by the hour with many columns is a twentieth of it. */
const MOST_BYTES = 2 ** 20;
const WHAT = 'a weather forecast as CSV, in a file';

/**
 * Reads a forecast: CSV with a header, in UTF-8, with or without a byte order mark.
 * @throws Problem for everything that is not as in the contract, naming line and column
 */
export async function readForecast(file: string): Promise<Forecast> {
  const text = await readText(file, WHAT, MOST_BYTES);
  return forecastOf(tableOf(text.replace(/^\uFEFF/, ''), file), file);
}

/** The cells of a CSV file (RFC 4180). */
export function tableOf(text: string, file: string): ForecastTable {
  if (text.trim() === '') {
    throw new Problem('bad-field', `${file}: expected a forecast, found an empty file`);
  }
  const [first = ''] = text.split(/\r\n|\r|\n/, 1);
  if (!first.includes(',') && /[;\t]/.test(first)) {
    throw new Problem(
      'bad-field',
      `${file}: line 1: expected commas between the columns, found ${first.includes(';') ? 'semicolons' : 'tabs'}; save it with commas, and numbers with a point (2.5)`,
    );
  }
  const [header, ...rows] = parsed(text, file);
  return {
    header: header?.record ?? [],
    rows: rows.map(({ record, info }) => ({ line: info.lines, cells: record })),
  };
}

interface Parsed {
  record: string[];
  info: { lines: number };
}

function parsed(text: string, file: string): Parsed[] {
  try {
    // Rows of another length are told of by what they ought to hold; see forecastOf.
    return parse(text, {
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as Parsed[];
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? `line ${error.lines}: ` : '';
    throw new Problem(
      'bad-field',
      `${file}: ${line}expected CSV, found quotation marks that are not closed or stand within a cell (${quoted(error.message)}); take them out`,
    );
  }
}
