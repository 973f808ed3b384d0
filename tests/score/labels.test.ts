import { expect, test } from 'vitest';
import { parseJson } from '../../src/base/json.js';
import { labelsSchema } from '../../src/score/labels.js';

const parse = (value: object) =>
  parseJson(JSON.stringify({ version: 1, visits: [], ...value }), 'labels.json', labelsSchema, 'labels');

test('times are seconds, or minutes and seconds, and are seconds once read', () => {
  const stretch = { start: '0:12.4', end: '1:02:03.5' };
  const read = { start: 12.4, end: 3723.5 };
  expect(
    parse({
      reviewed: [stretch],
      visits: [{ ...stretch, type: 'human' }],
      ignored: [{ start: 0, end: '0:30' }],
      causes: [{ ...stretch, cause: 'wind' }],
    }),
  ).toEqual({
    version: 1,
    reviewed: [read],
    visits: [{ ...read, type: 'human' }],
    ignored: [{ start: 0, end: 30 }],
    causes: [{ ...read, cause: 'wind' }],
  });
});

test('a visit of no type is that of an animal', () => {
  expect(parse({ visits: [{ start: 1, end: 2 }] }).visits).toEqual([{ start: 1, end: 2, type: 'animal' }]);
});

test.each([
  [{ start: '1:75', end: 90 }, /visits\[0\]\.start: expected seconds or "m:ss", .*found "1:75"/],
  [
    { start: '0:13', end: '0:12' },
    /visits\[0\]\.end: expected an end that is not before the start of visit 1, "0:13", found "0:12"$/,
  ],
  [{ start: 1, end: 2, type: 'bird' }, /visits\[0\]\.type: expected one of "animal"/],
])('refuses the visit %j', (visit, message) => {
  expect(() => parse({ visits: [visit] })).toThrow(message);
});
