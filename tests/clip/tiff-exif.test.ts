import { truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { exifMoment } from '../../src/clip/exif.js';
import { jpegExif } from '../../src/clip/jpeg.js';
import { photoOf } from '../support/photos.js';
import { tempDir } from './fixtures.js';

type Texts = readonly (readonly [tag: number, text: string])[];
const TIMES: Texts = [
  [0x9003, '2026:05:09 06:00:00\0'],
  [0x9011, '+01:00\0'],
  [0x9291, '25\0'],
];
const MOMENT = { stamp: { seconds: Date.UTC(2026, 4, 9, 6) / 1000, fraction: 0.25 }, zone: '+01:00' };

/** A TIFF by TIFF 6.0, section 2: one directory with a width, which leads to EXIF's, each at a place of its own. */
function tiff(order: 'II' | 'MM', texts: Texts, exifAt = 200): Buffer {
  const bytes = Buffer.alloc(exifAt + 400);
  const put = (value: number, at: number, length: number) =>
    order === 'II' ? bytes.writeUIntLE(value, at, length) : bytes.writeUIntBE(value, at, length);
  const entry = (at: number, tag: number, type: number, count: number) => {
    put(tag, at, 2);
    put(type, at + 2, 2);
    put(count, at + 4, 4);
    return at + 8;
  };
  bytes.write(order, 'latin1');
  put(42, 2, 2);
  put(100, 4, 4);
  put(2, 100, 2);
  put(64, entry(102, 256, 3, 1), 2);
  put(exifAt, entry(114, 0x8769, 4, 1), 4);
  put(texts.length, exifAt, 2);
  texts.forEach(([tag, text], i) => {
    const value = entry(exifAt + 2 + 12 * i, tag, 2, text.length);
    const away = exifAt + 200 + 30 * i;
    if (text.length > 4) put(away, value, 4);
    bytes.write(text, text.length > 4 ? away : value, 'latin1');
  });
  return bytes;
}

async function momentOf(bytes: Buffer, size = bytes.length) {
  const file = join(await tempDir(), 'a.tif');
  await writeFile(file, bytes);
  await truncate(file, size);
  return exifMoment(file);
}

describe('when a TIFF was taken', () => {
  it.each(['II', 'MM'] as const)('is told by its EXIF directory, byte order %s', async (order) => {
    expect(await momentOf(tiff(order, TIMES))).toEqual(MOMENT);
  });

  it('is what the same block tells in a JPEG', async () => {
    const block = jpegExif(await photoOf(90, '2026-05-09 06:00:00')) as Buffer;
    expect((await momentOf(block)).stamp).toEqual({ seconds: MOMENT.stamp.seconds });
  });

  it('is read of a file that no memory takes whole', async () => {
    expect(await momentOf(tiff('II', TIMES, 90_000), 3 * 2 ** 30)).toEqual(MOMENT);
  });

  it.each([
    ['without such a directory', tiff('II', []), 400],
    ['that ends before it', tiff('II', TIMES), 150],
    ['that ends within it', tiff('II', TIMES), 205],
    ['that is a header alone', tiff('MM', TIMES), 8],
    [
      'whose times are longer than any',
      tiff('II', [[0x9003, `2026:05:09 06:00:00${' '.repeat(80)}\0`]]),
      600,
    ],
  ])('is not known of one %s', async (_, bytes, size) => {
    expect(await momentOf(bytes, size)).toEqual({ stamp: null, zone: null });
  });
});
