import { readFile } from 'node:fs/promises';
import type { z } from 'zod';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';

/** Reads a UTF-8 JSON file and checks it against a schema; every fault is one Problem naming file, place, expectation and finding. */
export async function readJson<S extends z.ZodType>(
  file: string,
  schema: S,
  what: string,
): Promise<z.output<S>> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      throw new Problem('file-missing', `${file}: there is no such file; expected ${what}`);
    }
    throw new Problem(
      'file-unreadable',
      `${file}: cannot be read (${code ?? String(error)}); expected ${what}`,
    );
  }
  return parseJson(text, file, schema, what);
}
