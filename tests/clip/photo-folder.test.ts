import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  linkSync,
  mkdirSync,
  symlinkSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { exifStamp } from '../../src/clip/exif.js';
import { jpegExif } from '../../src/clip/jpeg.js';
import { photosIn } from '../../src/clip/photo-folder.js';
import { forgetThumbnail, thumbnailOf } from '../../src/clip/thumbnail.js';
import { Cache } from '../../src/store/cache.js';
import { photoOf, writePhotos } from '../support/photos.js';
import { scratch } from '../support/workbench.js';

const named = async (folder: string) => (await photosIn(folder)).photos.map(({ name }) => name);

describe('the photos of a folder', () => {
  it('are found in folders within it too, in order of time, two of one name apart', async () => {
    const folder = scratch();
    await writePhotos(folder, {
      '100/IMG_2.JPG': '2026-05-09 07:00:00',
      '101/IMG_2.JPG': '2026-05-09 06:00:00',
      '100/IMG_10.jpeg': '2026-05-09 07:00:00',
      'evening_20260509_053000.png': null,
    });
    writeFileSync(join(folder, 'notes.txt'), 'none');
    expect(await named(folder)).toEqual([
      'evening_20260509_053000.png',
      '101/IMG_2.JPG',
      '100/IMG_2.JPG',
      '100/IMG_10.jpeg',
    ]);
  });

  it('have the time of EXIF, else of the name, and none by a clock that was never set', async () => {
    const folder = scratch();
    await writePhotos(folder, {
      'a_20260101_000000.jpg': '2026-05-09 06:00:01',
      'b_1778306401500.jpg': null,
      'c.jpg': null,
      'd.jpg': '1970-01-01 00:00:20',
    });
    const { photos } = await photosIn(folder);
    expect(photos.map(({ name, time, zone }) => [name[0], time, zone])).toEqual([
      ['a', Date.UTC(2026, 4, 9, 6, 0, 1) / 1000, null],
      ['b', 1778306401.5, 0],
      ['c', null, null],
      ['d', null, null],
    ]);
  });

  it('have the time of a PNG that tells it behind its picture, of which no more is read', async () => {
    const folder = scratch();
    const chunk = (type: string, length: number, data: Uint8Array = Buffer.alloc(0)) => {
      const header = Buffer.alloc(8);
      header.writeUInt32BE(length);
      header.write(type, 4, 'latin1');
      return Buffer.concat([header, data]);
    };
    const exif = jpegExif(await photoOf(90, '2026-05-09 06:00:00'))!;
    const told = Buffer.concat([chunk('eXIf', exif.length, exif), Buffer.alloc(4), chunk('IEND', 0)]);
    // Its picture is a hole in the file, of more bytes than can be read at once.
    const length = 2 ** 31 - 1;
    const file = join(folder, 'a.png');
    writeFileSync(file, Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), chunk('IDAT', length)]));
    truncateSync(file, 16 + length + 4);
    appendFileSync(file, told);
    expect(await exifStamp(file)).toEqual({ seconds: Date.UTC(2026, 4, 9, 6) / 1000 });
  });

  it('are told of where the clock went back, within a folder', async () => {
    const folder = scratch();
    await writePhotos(folder, {
      '100/1.jpg': '2026-05-09 06:00:00',
      '100/2.jpg': '2026-05-09 05:00:00',
      '100/3.jpg': '2026-05-09 05:00:00',
      '101/1.jpg': '2026-05-09 04:00:00',
    });
    expect((await photosIn(folder)).wentBack).toEqual({ times: 1, first: '100/2.jpg' });
    expect((await photosIn(join(folder, '101'))).wentBack).toBeNull();
  });

  it('leave out clips that lie within', async () => {
    const folder = scratch();
    await writePhotos(folder, { 'good.jpg': null, 'pile/frames/1.jpg': null, 'bowl/frames/1.jpg': null });
    for (const clip of ['pile', 'bowl']) writeFileSync(join(folder, clip, 'clip.json'), '{}');
    const { photos, leftOut } = await photosIn(folder);
    expect(photos.map(({ name }) => name)).toEqual(['good.jpg']);
    expect(leftOut).toEqual([expect.stringMatching(/^2 folders were left out, .*clips.*: first .*bowl$/)]);
  });

  it('leave out what is none, a line a kind', async () => {
    const folder = scratch();
    await writePhotos(folder, { 'good.jpg': null, 'within/also.jpg': null });
    writeFileSync(join(folder, 'empty.jpg'), '');
    writeFileSync(join(folder, 'empty2.jpg'), '');
    writeFileSync(join(folder, 'text.jpg'), 'hello\n');
    writeFileSync(join(folder, '.hidden.jpg'), 'hello\n');
    symlinkSync('nowhere.jpg', join(folder, 'broken.jpg'));
    symlinkSync('good.jpg', join(folder, 'second.jpg'));
    linkSync(join(folder, 'good.jpg'), join(folder, 'third.jpg'));
    symlinkSync('.', join(folder, 'circle'));
    mkdirSync(join(folder, 'folder.jpg'));
    execFileSync('mkfifo', [join(folder, 'pipe.jpg')]);
    writeFileSync(
      Buffer.concat([Buffer.from(`${folder}/caf`), Buffer.from([0xe9]), Buffer.from('.jpg')]),
      'x',
    );
    const { photos, leftOut } = await photosIn(folder);
    expect(photos.map(({ name }) => name)).toEqual(['good.jpg', 'within/also.jpg']);
    expect(leftOut.map((line) => line.replaceAll(folder, ''))).toEqual([
      expect.stringMatching(/\/caf\ufffd\.jpg: left out, because its name is no UTF-8; rename it/),
      expect.stringMatching(/\/broken\.jpg: left out, because it is a link that leads nowhere/),
      expect.stringMatching(/^2 files were left out, because they are empty: first \/empty\.jpg/),
      expect.stringMatching(/\/pipe\.jpg: left out, because it is no file/),
      expect.stringMatching(
        /^2 files were left out, because they are other photos under second names: first \/second\.jpg/,
      ),
      expect.stringMatching(/\/text\.jpg: left out, because it is no picture/),
    ]);
  });

  it.each([
    ['no folder', 'missing', /missing.*there is no such folder; expected a folder of photos/],
    ['a file', 'file', /file: this is a file; expected a folder of photos/],
    ['one without photos', 'none', /none: the folder holds no photos.*give the folder/],
    ['one of which none is a photo', 'bad', /bad: .*none is one.*empty/],
  ])('refuse %s', async (_, name, line) => {
    const folder = scratch();
    writeFileSync(join(folder, 'file'), '');
    mkdirSync(join(folder, 'none'));
    mkdirSync(join(folder, 'bad'));
    writeFileSync(join(folder, 'bad', '1.jpg'), '');
    await expect(photosIn(join(folder, name))).rejects.toThrow(line);
  });

  it('keep names that would act elsewhere as they are', async () => {
    const folder = scratch();
    const names = ['"quoted",.jpg', '<script>alert(1)<', 'line\nbreak.jpg', 'brackets[1].jpg'];
    await writePhotos(folder, Object.fromEntries(names.map((name) => [name, null])));
    expect((await named(folder)).sort()).toEqual(names.filter((name) => name.endsWith('.jpg')).sort());
  });
});

describe('a thumbnail', () => {
  it('is kept, made anew for a file that changed, and forgotten', async () => {
    const folder = scratch();
    const cache = new Cache(scratch());
    await writePhotos(folder, { 'brackets[1].jpg': null });
    const first = (await photosIn(folder)).photos[0]!;
    const drawn = await thumbnailOf(first, 32, cache);
    expect(drawn).toMatchObject({ width: 32, height: 24 });
    truncateSync(first.file, 100);
    // By size and time of change it is the same file, so that it is not read again.
    expect(await thumbnailOf(first, 32, cache)).toEqual(drawn);
    utimesSync(first.file, 1, 1);
    const changed = (await photosIn(folder)).photos[0]!;
    expect(await thumbnailOf(changed, 32, cache)).toBeNull();
    await forgetThumbnail(first, cache);
    expect(await thumbnailOf(first, 32, cache)).toBeNull();
  });

  it('is never larger than the photo, and stands as the camera was held', async () => {
    const folder = scratch();
    const { default: sharp } = await import('sharp');
    const picture = sharp({ create: { width: 64, height: 48, channels: 3, background: '#456' } });
    await picture.withMetadata({ orientation: 6 }).jpeg().toFile(join(folder, 'turned.jpg'));
    const photo = (await photosIn(folder)).photos[0]!;
    expect(await thumbnailOf(photo, 440, Cache.inMemory())).toMatchObject({ width: 48, height: 64 });
  });
});
