import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { placed } from '../../src/fit/fired/placed.js';
import { readFired } from '../../src/fit/fired/read-fired.js';
import { writePhotos } from '../support/photos.js';
import { scratch } from '../support/workbench.js';

const clip = { start: '2026-05-09T06:00:00+01:00', seconds: 7200 };
const begin = Date.parse(clip.start);

describe('photos of a camera', () => {
  it('named in Unix time lie on the clip by it, for it is in UTC', async () => {
    const folder = scratch();
    // An hour wrong they would lie on the clip all the same.
    const times = [4200, 4800, 6600];
    await writePhotos(folder, Object.fromEntries(times.map((time) => [`${begin / 1000 + time}.jpg`, null])));
    const stamps = await readFired(folder, { onWarning: () => {} });
    const told = placed(stamps, clip, 'DCIM', null);
    expect(told).toMatchObject({ times, assumed: [] });
  });

  it('by EXIF with its zone lie on the clip by that', async () => {
    const folder = scratch();
    const exif = { IFD2: { DateTimeOriginal: '2026:05:09 07:01:10', OffsetTimeOriginal: '+02:00' } };
    const grey = { width: 64, height: 48, channels: 3 as const, background: 'grey' };
    await sharp({ create: grey }).withExif(exif).jpeg().toFile(join(folder, 'a.jpg'));
    const told = placed(await readFired(folder, { onWarning: () => {} }), clip, 'DCIM', null);
    expect(told).toMatchObject({ times: [70], assumed: [] });
  });

  it('by EXIF or a date in the name are by the clock of the start, and that is said', async () => {
    const folder = scratch();
    await writePhotos(folder, { 'a.jpg': '2026-05-09 06:01:00', 'b_20260509_060230.jpg': null });
    const stamps = await readFired(folder, { onWarning: () => {} });
    const told = placed(stamps, clip, 'DCIM', null);
    expect(told.times).toEqual([60, 150]);
    expect(told.assumed).toEqual([expect.stringContaining('without a zone are by the clock')]);
  });
});
