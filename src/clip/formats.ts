import { extname } from 'node:path';
import { plural } from '../base/figures.js';
import { Problem } from '../base/problem.js';

export type StillFormat = 'JPEG' | 'PNG' | 'BMP' | 'TIFF';

const byEnding: Readonly<Record<string, StillFormat>> = {
  '.jpg': 'JPEG',
  '.jpeg': 'JPEG',
  '.png': 'PNG',
  '.bmp': 'BMP',
  '.tif': 'TIFF',
  '.tiff': 'TIFF',
};

export const stillEndings: readonly string[] = Object.keys(byEnding);

/** What a folder without pictures holds instead, to stand after their endings. */
export function insteadOfPictures(entries: number): string {
  return entries === 0 ? ' nor anything else' : `, but ${plural(entries, 'other entry', 'other entries')}`;
}

/** The format a file name promises, or undefined when it is not a still's. */
export function formatOfName(name: string): StillFormat | undefined {
  return byEnding[extname(name).toLowerCase()];
}

const signatures: readonly [StillFormat, readonly number[]][] = [
  ['JPEG', [0xff, 0xd8, 0xff]],
  ['PNG', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ['BMP', [0x42, 0x4d]],
  ['TIFF', [0x49, 0x49, 0x2a, 0x00]],
  ['TIFF', [0x4d, 0x4d, 0x00, 0x2a]],
];

/** The format that a file's first bytes show, or undefined. */
export function formatOfBytes(bytes: Uint8Array): StillFormat | undefined {
  return signatures.find(([, magic]) => magic.every((byte, i) => bytes[i] === byte))?.[0];
}

/** How messages name a picture: its file and its place in the clip. */
export function pictureName(file: string, index: number): string {
  return `${file} (frame ${index}, counted from 0)`;
}

/**
 * Refuses a file whose content is not what its name says.
 * @param bytes the file, or at least its first 8 bytes
 * @throws Problem 'bad-picture'
 */
export function checkFormat(bytes: Uint8Array, file: string, index: number): void {
  const name = pictureName(file, index);
  if (bytes.length === 0) {
    throw new Problem('bad-picture', `${name}: the file is empty; copy it again or take it out of the clip`);
  }
  const expected = formatOfName(file);
  const found = formatOfBytes(bytes);
  if (found === expected) return;
  throw new Problem(
    'bad-picture',
    found
      ? `${name}: the name says ${expected}, but the file is a ${found}; give it the ending of a ${found}, or take it out of the clip`
      : `${name}: the name says ${expected}, but the file is no picture this program knows (JPEG, PNG, BMP, TIFF); copy it again or take it out of the clip`,
  );
}
