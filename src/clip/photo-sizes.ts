import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { openRegular, unreadable } from '../files/regular.js';
import { formatOfBytes, formatOfName, insteadOfPictures, stillEndings } from './formats.js';
import { sizeByHead } from './size.js';

/** How large photos are, in MB (10^6 bytes). */
export interface PhotoSizes {
  photos: number;
  mean: number;
  /** Standard deviation; null of a single one. */
  deviation: number | null;
  /** One in twenty is smaller, one in twenty larger. */
  low: number;
  high: number;
}

/**
 * How large the photos of a folder are; those in folders within it are not looked at.
 * @param onWarning told of files that are empty or no pictures, which are left out
 * @throws Problem 'file-missing', 'file-unreadable'
 */
export async function photoSizes(folder: string, onWarning: (line: string) => void): Promise<PhotoSizes> {
  const expected = 'a folder of photos';
  const entries = await readdir(folder).catch(async (error) => {
    if (error.code === 'ENOTDIR') {
      throw new Problem('file-unreadable', `${folder}: this is a file; expected ${expected}`);
    }
    throw await unreadable(folder, error, expected);
  });
  const names = entries.filter((name) => !name.startsWith('.') && formatOfName(name) !== undefined).sort();
  const sizes: number[] = [];
  const leftOut: string[] = [];
  for (const name of names) {
    const file = join(folder, name);
    const info = await stat(file).catch(async (error) => {
      throw await unreadable(file, error, 'a photo');
    });
    if (!info.isFile()) continue;
    if (info.size === 0) leftOut.push(`${file}: the file is empty, so it was left out`);
    else if (await beginsAsPicture(file, info.size)) sizes.push(info.size / 1e6);
    else leftOut.push(`${file}: this is no picture, whatever its name says, so it was left out`);
  }
  if (sizes.length === 0) {
    if (leftOut.length > 0) {
      throw new Problem(
        'file-missing',
        `${folder}: the folder holds no photos: of ${leftOut.length === 1 ? 'the file' : `${leftOut.length} files`} called so (${stillEndings.join(', ')}) none is a picture; copy them from the camera again`,
      );
    }
    throw new Problem(
      'file-missing',
      `${folder}: the folder holds no photos (${stillEndings.join(', ')})${insteadOfPictures(entries.length)}; give the folder that holds the photos themselves`,
    );
  }
  for (const line of leftOut) onWarning(line);
  return sizesOf(sizes.sort((a, b) => a - b));
}

/** So much of a picture tells its width and height, but for the rare one that has much else before them. */
const HEAD_BYTES = 65_536;

/** Whether a file is a picture as far as its head tells. */
async function beginsAsPicture(file: string, bytes: number): Promise<boolean> {
  const handle = await openRegular(file, 'a photo');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    const head = buffer.subarray(0, bytesRead);
    return bytes > HEAD_BYTES ? formatOfBytes(head) !== undefined : sizeByHead(head) !== null;
  } finally {
    await handle.close();
  }
}

/** @param sorted rising, at least one */
function sizesOf(sorted: readonly number[]): PhotoSizes {
  const n = sorted.length;
  const mean = sorted.reduce((sum, size) => sum + size, 0) / n;
  const squares = sorted.reduce((sum, size) => sum + (size - mean) ** 2, 0);
  return {
    photos: n,
    mean,
    deviation: n === 1 ? null : Math.sqrt(squares / (n - 1)),
    low: sorted[Math.floor(0.05 * (n - 1))]!,
    high: sorted[Math.ceil(0.95 * (n - 1))]!,
  };
}
