import { constants, type Stats } from 'node:fs';
import { type FileHandle, lstat, open, readlink, stat } from 'node:fs/promises';
import { Problem } from '../base/problem.js';
import { codeOf, meaningOf } from './faults.js';

/** What the shell hands over: a pipe there has somebody who writes to it. */
const HANDED_OVER = /^(\/dev\/stdin|(\/dev|\/proc\/self)\/fd\/\d+)$/;

/**
 * Opens a file to be read. Nothing is waited for: a named pipe that nobody writes to, a socket or a device is refused, and
 * so is a folder.
 * @param expected for messages, such as 'labels of a clip'
 * @throws Problem 'file-missing' or 'file-unreadable'
 */
export async function openRegular(file: string, expected: string): Promise<FileHandle> {
  if (file.trim() === '')
    throw new Problem('usage', `expected the name of a file, ${expected}, found an empty one`);
  const handedOver = HANDED_OVER.test(file);
  const before = await stat(file).catch((error) => fail(file, error, expected));
  refuseOthers(file, before, expected, handedOver);
  // What is there may have been exchanged since: a pipe is not waited for, and looked at again.
  const flags = constants.O_RDONLY | (handedOver ? 0 : (constants.O_NONBLOCK ?? 0));
  const handle = await open(file, flags).catch((error) => fail(file, error, expected));
  try {
    refuseOthers(file, await handle.stat(), expected, handedOver);
    return handle;
  } catch (error) {
    await handle.close();
    throw error;
  }
}

/**
 * All bytes of a regular file.
 * @throws Problem 'file-missing' or 'file-unreadable'
 */
export async function readRegular(
  file: string,
  expected: string,
  most = Number.POSITIVE_INFINITY,
): Promise<Buffer> {
  const handle = await openRegular(file, expected);
  try {
    const { size } = await handle.stat();
    if (size > most) {
      throw new Problem(
        'file-unreadable',
        `${file}: the file is ${megabytes(size, 'ceil')} long; expected ${expected}, which takes no more than ${megabytes(most, 'floor')}`,
      );
    }
    return await handle.readFile().catch((error) => fail(file, error, expected));
  } finally {
    await handle.close();
  }
}

/**
 * Whether there is anything of a name at all. A link that leads nowhere is there: whoever put it there meant something.
 * @throws Problem 'file-unreadable' where that cannot be told
 */
export async function isThere(file: string): Promise<boolean> {
  try {
    await lstat(file);
    return true;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false;
    return fail(file, error, 'a file');
  }
}

/** What a thing is that is no file, in words; null for a file. */
export function otherThanFile(
  info: Pick<Stats, 'isFile' | 'isDirectory' | 'isFIFO' | 'isSocket'>,
): string | null {
  if (info.isFile()) return null;
  if (info.isDirectory()) return 'a folder';
  if (info.isFIFO()) return 'a named pipe';
  return info.isSocket() ? 'a socket' : 'a device';
}

/** What cannot be read, and why, as something the user can mend. */
export async function unreadable(file: string, error: unknown, expected: string): Promise<unknown> {
  const code = codeOf(error);
  if (error instanceof Problem || code === undefined) return error;
  const target = await readlink(file).catch(() => null);
  if (target !== null && (code === 'ENOENT' || code === 'ELOOP')) {
    const leads = code === 'ELOOP' ? 'in a circle' : `to ${target}, where there is nothing`;
    return new Problem('file-missing', `${file}: this is a link that leads ${leads}; expected ${expected}`);
  }
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    const kind = expected.startsWith('a folder') ? 'folder' : 'file';
    return new Problem('file-missing', `${file}: there is no such ${kind}; expected ${expected}`);
  }
  if (code === 'EISDIR') {
    return new Problem('file-unreadable', `${file}: this is a folder; expected ${expected}`);
  }
  return new Problem(
    'file-unreadable',
    `${file}: cannot be read (${code})${meaningOf(code)}; expected ${expected}`,
  );
}

async function fail(file: string, error: unknown, expected: string): Promise<never> {
  throw await unreadable(file, error, expected);
}

function refuseOthers(file: string, info: Stats, expected: string, handedOver: boolean): void {
  const other = otherThanFile(info);
  if (other === null || (handedOver && info.isFIFO())) return;
  throw new Problem('file-unreadable', `${file}: this is ${other}; expected ${expected}`);
}

/** To a tenth, for what is longer than the most that may be upwards and for that downwards, so that the two never read alike. */
function megabytes(bytes: number, rounded: 'ceil' | 'floor'): string {
  const [unit, name] = bytes < 2 ** 20 ? [2 ** 10, 'kB'] : [2 ** 20, 'MB'];
  return `${Math[rounded]((10 * bytes) / unit) / 10} ${name}`;
}
