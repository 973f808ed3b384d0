import { CsvError, type Info, type Options, parse } from 'csv-parse/sync';
import type { Problem } from '../base/problem.js';

/** What one row says, and where it stands. */
export interface CsvRow {
  line: number;
  cells: string[];
}

/**
 * The rows of a CSV file (RFC 4180), with or without a byte order mark; empty lines are left out, and rows may differ in length.
 * @param fault what to throw for quotation marks that stand out of place
 */
export function csvRows(
  text: string,
  options: Pick<Options, 'delimiter' | 'trim'>,
  fault: (where: string) => Problem,
): CsvRow[] {
  try {
    const records = parse(text, {
      ...options,
      bom: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
    }) as unknown as { record: string[]; info: Info }[];
    return records.map(({ record, info }) => ({ line: info.lines, cells: record }));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    throw fault(typeof error.lines === 'number' ? `line ${error.lines}: ` : '');
  }
}
