import { csvCell } from '../../../base/csv.js';

/** Rows that are handed over at once. */
const ROWS = 1000;

/** A table as CSV (RFC 4180): a header, and a row each with its cells in the order of the columns; what is missing is empty. */
export function* csvOf<C extends string>(
  columns: readonly C[],
  rows: Iterable<Partial<Record<C, string>>>,
): Generator<string> {
  let lines = [columns.join(',')];
  for (const row of rows) {
    lines.push(columns.map((column) => csvCell(row[column] ?? '')).join(','));
    if (lines.length < ROWS) continue;
    yield `${lines.join('\n')}\n`;
    lines = [];
  }
  if (lines.length > 0) yield `${lines.join('\n')}\n`;
}

/** What spreadsheets begin a formula with. */
const FORMULA = /^\s*[=+\-@]/;

/** Whether a spreadsheet that opens a file of such a cell may take it for a formula. */
export function isFormula(cell: string): boolean {
  return FORMULA.test(cell);
}
