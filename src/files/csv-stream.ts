import { Readable } from 'node:stream';
import { CsvError, type Info, parse } from 'csv-parse';
import { Problem } from '../base/problem.js';
import type { CsvRow } from './read-csv.js';
import { openRegular, unreadable } from './regular.js';

/** A row of any table that is meant is shorter: a quotation mark that is never closed would take all of the file. */
const LONGEST_ROW = 2 ** 20;

export interface CsvStreamOptions {
  delimiter?: string;
  signal?: AbortSignal | undefined;
  /** Told of each row: bytes read by its end, of all. */
  onProgress?: ((done: number, total: number) => void) | undefined;
}

/**
 * The rows of a CSV file of any size, one after another: UTF-8 (RFC 4180), with or without a byte order mark; empty lines are
 * left out, and rows may differ in length.
 * @param expected for messages, such as 'observations'
 * @throws Problem for what cannot be read, is no UTF-8, or is no CSV
 */
export async function* csvStream(
  file: string,
  expected: string,
  { delimiter = ',', signal, onProgress }: CsvStreamOptions = {},
): AsyncGenerator<CsvRow> {
  const handle = await openRegular(file, expected);
  try {
    const { size } = await handle.stat();
    const parser = parse({
      delimiter,
      bom: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      max_record_size: LONGEST_ROW,
    });
    const text = Readable.from(decoded(handle.createReadStream({ autoClose: false }), file, expected), {
      objectMode: false,
    });
    text.on('error', (error) => parser.destroy(error));
    for await (const row of text.pipe(parser) as AsyncIterable<{ record: string[]; info: Info }>) {
      signal?.throwIfAborted();
      onProgress?.(Math.min(size, row.info.bytes), size);
      yield { line: row.info.lines, cells: row.record };
    }
  } catch (error) {
    throw error instanceof CsvError ? misplaced(file, expected, error) : error;
  } finally {
    await handle.close();
  }
}

async function* decoded(
  pieces: AsyncIterable<Buffer>,
  file: string,
  expected: string,
): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  const text = (piece?: Buffer): string => {
    try {
      return piece ? decoder.decode(piece, { stream: true }) : decoder.decode();
    } catch {
      throw new Problem(
        'bad-field',
        `${file}: expected ${expected} as UTF-8 text, found bytes that are none; save it as UTF-8`,
      );
    }
  };
  try {
    for await (const piece of pieces) yield text(piece);
  } catch (error) {
    throw await unreadable(file, error, expected);
  }
  yield text();
}

function misplaced(file: string, expected: string, error: CsvError): Problem {
  const where = typeof error.lines === 'number' ? `line ${error.lines}: ` : '';
  const long = error.code === 'CSV_MAX_RECORD_SIZE';
  const found = long ? 'a row of more than a megabyte' : 'a quotation mark out of place';
  return new Problem(
    'bad-field',
    `${file}: ${where}expected ${expected} as CSV, found ${found}; a text that holds a quotation mark stands in quotation marks, its own doubled`,
  );
}
