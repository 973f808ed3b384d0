import { expect, test } from 'vitest';
import { parseJson } from '../../src/base/json.js';
import { manifestSchema } from '../../src/clip/manifest.js';

const base = { version: 1, frames: 'frames/*.jpg' };
const parse = (value: object) =>
  parseJson(JSON.stringify(value), 'clip.json', manifestSchema, 'a description of a clip');

test('takes every field of the contract', () => {
  const full = {
    ...base,
    title: 'Bramble hedge, calm morning',
    site: 'log pile',
    rate: 5,
    start: '2026-05-04T06:10:00+01:00',
    place: { latitude: 51.5, longitude: -3.2 },
    conditions: { wind: 2, rain: 0, light: 4000 },
    scene: { subject: 1.8, foliage: 2.5, height: 1.2, mount: 'post', cover: false },
    simulated: { from: '../calm', seed: '7', wind: 5, rain: 0, light: 4000, assumed: ['sway amplitude'] },
  };
  expect(parse(full)).toEqual(full);
});

test.each(['exif', 'names', 'video', [0, 0.2, 0.4]])('takes times %j', (times) => {
  expect(parse({ ...base, times })).toEqual({ ...base, times });
});

test('takes listed times as minutes and seconds too', () => {
  expect(parse({ ...base, times: [0, '0:00.2', '1:00:00.4'] }).times).toEqual([0, 0.2, 3600.4]);
});

test.each([
  [{ ...base, times: ['0:00', '0:75'] }, /times\[1\]: expected seconds or "m:ss", .*found "0:75"/],
  [
    { ...base, times: ['0:00', '0:05', 4] },
    /times\[2\]: expected a time above that of the frame before it \(5\), found 4/,
  ],
  [{ ...base, rate: 5, times: 'exif' }, /times: expected either rate or times, not both/],
  [{ ...base, rate: 0 }, /rate: expected a number from 0.00001 to 1000, found 0/],
  [{ ...base, rate: 1000.5 }, /rate: expected a number from 0.00001 to 1000, found 1000.5/],
  [
    { ...base, times: [0, 0.4, 0.3] },
    /times\[2\]: expected a time above that of the frame before it \(0\.4\), found 0\.3/,
  ],
  [
    { ...base, times: 'exiff' },
    /times: expected "exif", "names", "video" or a list of seconds, found "exiff"/,
  ],
  [{ ...base, start: '2026-05-04T06:10:00' }, /start: expected an RFC 3339 time with a zone/],
  [{ ...base, version: 2 }, /version: expected 1, found 2/],
  [{ version: 1 }, /frames: expected a string, found nothing/],
  [{ ...base, fraems: 'x' }, /fraems: unknown field \(did you mean 'frames'\?\)/],
  [
    { ...base, place: { latitude: 91, longitude: 0 } },
    /place\.latitude: expected a number from -90 to 90, found 91/,
  ],
])('refuses %j', (value, message) => {
  expect(() => parse(value)).toThrow(message);
});
