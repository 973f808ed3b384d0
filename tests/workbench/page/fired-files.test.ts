import { expect, it } from 'vitest';
import { firedFrom } from '../../../src/workbench/page/views/camera/fired-files.js';

const file = (path: string, size = 10) => ({
  file: new File([new Uint8Array(size)], path.split('/').at(-1)!),
  path,
});

it('of a JPEG only the beginning is sent, in which it says when they were taken', () => {
  const fired = firedFrom([file('100/a.jpg', 3_000_000), file('100/b.jpg'), file('times.csv')]);
  expect(fired).toMatchObject({ kind: 'photos', bytes: 256 * 1024 + 10 });
  expect(fired.kind === 'photos' && fired.files.map(({ name, file: { size } }) => [name, size])).toEqual([
    ['100-a.jpg', 256 * 1024],
    ['100-b.jpg', 10],
  ]);
});

it('a PNG, which may say it at its end, is sent whole', () => {
  expect(firedFrom([file('a.PNG', 3_000_000)])).toMatchObject({ kind: 'photos', bytes: 3_000_000 });
});

it('one list of times is sent whole', () => {
  expect(firedFrom([file('fired.csv', 99)])).toMatchObject({ kind: 'list', bytes: 99 });
});

it.each([
  ['several lists', [file('a.csv'), file('b.csv')], 'There are several lists: choose one.'],
  ['a list that is none', [file('a.csv', 5 * 2 ** 20)], 'a.csv: expected a list of times, of at most 4 MB.'],
  ['nothing', [], 'There is nothing in it.'],
  [
    'other files',
    [file('a.mp4')],
    'Of 1 files none is a photo (JPEG or PNG) or a list of times (CSV or JSON).',
  ],
])('%s: said why not', (_, files, why) => {
  expect(firedFrom(files)).toEqual({ kind: 'nothing', why });
});
