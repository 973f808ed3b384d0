import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { unreadable } from '../files/regular.js';
import { formatOfName, stillEndings } from './formats.js';

/** How large photos are, in MB (10^6 bytes). */
export interface PhotoSizes {
  photos: number;
  mean: number;
  /** Standard deviation; 0 of a single one. */
  deviation: number;
  /** One in twenty is smaller, one in twenty larger. */
  low: number;
  high: number;
}

/**
 * How large the photos of a folder are; those in folders within it are not looked at.
 * @param onWarning told of files that are empty, which are left out
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
  for (const name of names) {
    const file = join(folder, name);
    const info = await stat(file).catch(async (error) => {
      throw await unreadable(file, error, 'a photo');
    });
    if (!info.isFile()) continue;
    if (info.size > 0) sizes.push(info.size / 1e6);
    else onWarning(`${file}: the file is empty, so it was left out`);
  }
  if (sizes.length === 0) {
    throw new Problem(
      'file-missing',
      `${folder}: the folder holds no photos (${stillEndings.join(', ')}), but ${entries.length} other entries; give the folder that holds the photos themselves`,
    );
  }
  return sizesOf(sizes.sort((a, b) => a - b));
}

/** @param sorted rising, at least one */
function sizesOf(sorted: readonly number[]): PhotoSizes {
  const n = sorted.length;
  const mean = sorted.reduce((sum, size) => sum + size, 0) / n;
  const squares = sorted.reduce((sum, size) => sum + (size - mean) ** 2, 0);
  return {
    photos: n,
    mean,
    deviation: n === 1 ? 0 : Math.sqrt(squares / (n - 1)),
    low: sorted[Math.floor(0.05 * (n - 1))]!,
    high: sorted[Math.ceil(0.95 * (n - 1))]!,
  };
}
