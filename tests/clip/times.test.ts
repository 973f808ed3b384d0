import { expect, test } from 'vitest';
import { nameStamp } from '../../src/clip/stamps.js';
import { listedTimes, timesOfStamps } from '../../src/clip/times.js';

const dawn = Date.UTC(2026, 4, 4, 6, 10, 0) / 1000;
const nameOf = (i: number) => `frame ${i}`;

test.each([
  ['20260504_061000.jpg', { seconds: dawn }],
  ['IMG-20260504T061000.jpg', { seconds: dawn }],
  ['20260504061000.jpg', { seconds: dawn }],
  ['20260504 061000_250.jpg', { seconds: dawn, fraction: 0.25 }],
  ['20260504061000250.jpg', { seconds: dawn, fraction: 0.25 }],
  ['20260504_061000-01.jpg', { seconds: dawn }],
  [`cam1_${dawn}.jpg`, { seconds: dawn }],
  [`${dawn}050.png`, { seconds: dawn, fraction: 0.05 }],
])('reads the time in %s', (name, stamp) => {
  expect(nameStamp(name)).toEqual(stamp);
});

test.each([
  'frame0001.jpg',
  '20261304_061000.jpg',
  '20260230_061000.jpg',
  '20260504_246000.jpg',
  '123456789.jpg',
])('finds no time in %s', (name) => {
  expect(nameStamp(name)).toBeNull();
});

test('whole-second stamps are spread evenly within their second, with a warning', () => {
  const stamps = [10, 10, 11, 11, 11, 11, 13].map((seconds) => ({ seconds }));
  const { times, warnings } = timesOfStamps(stamps, nameOf);
  expect([...times]).toEqual([0, 0.5, 1, 1.25, 1.5, 1.75, 3]);
  expect(warnings).toEqual([expect.stringMatching(/hold whole seconds only; 6 of 7 frames/)]);
});

test('whole-second stamps that never share a second need no warning', () => {
  expect(timesOfStamps([{ seconds: 10 }, { seconds: 12 }], nameOf).warnings).toEqual([]);
});

test('stamps with fractions are kept as they are', () => {
  const stamps = [
    { seconds: 10, fraction: 0.75 },
    { seconds: 11, fraction: 0 },
  ];
  expect([...timesOfStamps(stamps, nameOf).times]).toEqual([0, 0.25]);
});

test('stamps that fall are refused with index and both times', () => {
  const stamps = [{ seconds: dawn }, { seconds: dawn + 2 }, { seconds: dawn + 1 }];
  expect(() => timesOfStamps(stamps, nameOf)).toThrow(
    /^frame 2: its time 2026-05-04T06:10:01\.000 is not after 2026-05-04T06:10:02\.000/,
  );
});

test('listed times must be as many as the frames, and start at 0 after reading', () => {
  expect([...listedTimes([5, 6, 8], 3, 'clip.json')]).toEqual([0, 1, 3]);
  expect(() => listedTimes([0, 1], 3, 'clip.json')).toThrow(
    'clip.json: times: expected one time for each of the 3 frames, found 2',
  );
});

test('fractions of a second are as exact in stamps of today as they are from zero', () => {
  const stamps = Array.from({ length: 40 }, (_, i) => nameStamp(`${1_777_871_400_700 + 100 * i}.png`)!);
  expect([...timesOfStamps(stamps, nameOf).times]).toEqual(Array.from({ length: 40 }, (_, i) => i / 10));
});

test('stamps that do not rise are named by their dates', () => {
  const stamps = [{ seconds: dawn }, { seconds: dawn - 2, fraction: 0.5 }];
  expect(() => timesOfStamps(stamps, nameOf)).toThrow(
    'frame 1: its time 2026-05-04T06:09:58.500 is not after 2026-05-04T06:10:00.000 of',
  );
});
