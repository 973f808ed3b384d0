import { Problem } from '../../base/problem.js';
import { csvRows } from '../../files/read-csv.js';
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
  // Rows of another length are told of by what they ought to hold; see forecastOf.
  const [header, ...rows] = csvRows(
    text,
    { trim: true },
    (where) =>
      new Problem(
        'bad-field',
        `${file}: ${where}expected CSV, found quotation marks that are not closed or stand within a cell; take them out`,
      ),
  );
  return { header: header?.cells ?? [], rows };
}
