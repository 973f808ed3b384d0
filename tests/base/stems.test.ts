import { expect, test } from 'vitest';
import { ownStems, stemOf } from '../../src/base/stems.js';

test.each([
  ['Log pile', 'log-pile'],
  ['  Água & Öl  ', 'agua-ol'],
  ['../../etc/passwd', 'etc-passwd'],
  ['дом', ''],
  ['CON.json\u0000', 'con-json'],
  ['a'.repeat(200), 'a'.repeat(60)],
])('%j gives file names that begin with %j', (name, stem) => {
  expect(stemOf(name)).toBe(stem);
});

test('names that come to the same stem are told apart', () => {
  expect(ownStems(['Log pile', 'log-pile', null, '?', 'LOG PILE'], 'settings', [''])).toEqual([
    'log-pile',
    'log-pile-2',
    'settings',
    'settings-2',
    'log-pile-3',
  ]);
});

test("no file of one site has the name of another's", () => {
  expect(ownStems(['shed', 'shed wind'], 'settings', ['', '-wind'])).toEqual(['shed', 'shed-wind-2']);
  expect(ownStems(['shed wind', 'shed'], 'settings', ['', '-wind'])).toEqual(['shed-wind', 'shed-2']);
});
