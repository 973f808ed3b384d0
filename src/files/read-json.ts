import type { z } from 'zod';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';
import { readRegular } from './regular.js';

/** Hundreds of thousands of visits take a tenth of it; twice as much would not fit into one string. */
const MOST_BYTES = 256 * 2 ** 20;

/** Reads a UTF-8 JSON file and checks it against a schema; every fault is one Problem naming file, place, expectation and finding. */
export async function readJson<S extends z.ZodType>(
  file: string,
  schema: S,
  what: string,
): Promise<z.output<S>> {
  return parseJson(await readText(file, what), file, schema, what);
}

/** The text of a file as it stands. @throws Problem also for what is no UTF-8 */
export async function readText(file: string, what: string, most = MOST_BYTES): Promise<string> {
  return decoded(await readRegular(file, what, most), file);
}

/** The text, which must be UTF-8 throughout: a name in another encoding would be read as another name. */
function decoded(bytes: Buffer, file: string): string {
  try {
    // The mark at the start is taken off where JSON is read.
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    const found = isUtf16(bytes) ? 'UTF-16' : 'bytes that are none';
    throw new Problem('not-json', `${file}: expected UTF-8 text, found ${found}; save it as UTF-8`);
  }
}

/** Known by the byte order mark, which is no UTF-8. */
function isUtf16([first, second]: Buffer): boolean {
  return (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
}
