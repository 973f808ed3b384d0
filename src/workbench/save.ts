import { lstat, realpath } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Problem } from '../base/problem.js';
import { type Output, openOutput } from '../files/output.js';
import type { OpenPorts } from '../jobs/ports.js';
import { madeIn } from '../store/made.js';
import type { Saved } from './answer-protocol.js';

/** A file of the opened folder that is to be written. */
export interface FileToSave {
  name: string;
  content: () => string | Promise<string>;
}

/**
 * Writes files into a folder; nothing is written unless all may be and all are made, and over a file only where `replace` is given. In a clip
 * only what becomes no part of it is written, and nothing is replaced.
 * @throws Problem 'file-unwritable' or 'leaves-folder', and whatever making the content throws
 */
export async function saveInto(
  folder: string,
  files: readonly FileToSave[],
  replace: boolean,
  { cache }: Pick<OpenPorts, 'cache'>,
): Promise<Saved> {
  const rules = { reads: [], made: madeIn(cache) };
  const opened: [Output, FileToSave][] = [];
  const there: string[] = [];
  for (const file of files) {
    const path = join(folder, file.name);
    const found = await lstat(path).catch(() => null);
    if (found) there.push(file.name);
    // What is there is looked at as if it were to be replaced, so that nobody is asked about what cannot be.
    const force = replace || found !== null;
    const output = await openOutput('saving', path, { ...rules, force });
    if (dirname(output.file) !== (await realpath(folder))) {
      throw new Problem(
        'leaves-folder',
        `${path}: this is a link out of the opened folder, in which alone the page writes; choose another name, or move the link away`,
      );
    }
    opened.push([output, file]);
  }
  if (there.length > 0 && !replace) return { folder, files: [], there };
  const made: [Output, string][] = [];
  for (const [output, { content }] of opened) made.push([output, await content()]);
  for (const [output, content] of made) await output.write(content);
  return { folder, files: files.map(({ name }) => name), there: [] };
}

/** Letters and digits of any script, with blanks, dots and dashes between: no way into another folder, no hidden file. */
const NAME = /^[\p{L}\p{N}](?:[\p{L}\p{N} ._-]{0,58}[\p{L}\p{N}])?$/u;
/** What is something else than settings where it ends in .json. */
const OTHERS = /^(?:camera|clip|labels|.*\.labels|.*\.json)$/i;

/** @throws Problem 'bad-field' for a name that settings cannot have */
export function checkName(name: string): void {
  if (NAME.test(name) && !OTHERS.test(name)) return;
  throw new Problem(
    'bad-field',
    `name: expected up to 60 letters and digits, with blanks, dots and dashes between them, and not camera, clip or labels, found ${JSON.stringify(name.slice(0, 80))}`,
  );
}
