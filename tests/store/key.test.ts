import { expect, test } from 'vitest';
import { jsonKey, KeyMaker, keyOf } from '../../src/store/key.js';

const bytes = (...values: number[]) => Uint8Array.from(values);

test.each<[string, unknown[], unknown[]]>([
  ['bytes cut at another place', [bytes(1, 2), bytes(3)], [bytes(1), bytes(2, 3)]],
  ['a part that is empty', [bytes(1), bytes()], [bytes(), bytes(1)]],
  ['values cut at another place', ['ab', 'c'], ['a', 'bc']],
  ['two parts for one', [[1], [2]], [[1, 2]]],
  ['bytes for the text that they are', [Buffer.from('"a"')], ['a']],
  ['bytes that look like the start of another part', [bytes(1), 2], [Buffer.from('\u0001json 1:2')]],
  ['nothing for a word that says so', [null], ['null']],
  ['another order', [1, 2], [2, 1]],
])('keys differ for %s', (_, a, b) => {
  expect(keyOf(...a)).not.toBe(keyOf(...b));
});

test('a key is the same for equal parts, given at once or one by one', () => {
  const parts = [{ level: 3 }, Float64Array.of(0, 0.2), null];
  expect(keyOf(...parts)).toMatch(/^[0-9a-f]{64}$/);
  expect(new KeyMaker().add({ level: 3 }).add(Float64Array.of(0, 0.2)).add(null).key()).toBe(keyOf(...parts));
});

test('what cannot be a part is refused', () => {
  expect(() => keyOf(undefined)).toThrow(RangeError);
});

// printf '[1,{"a":[0.5]}]' | sha256sum
test('keys that stand in accepted results keep their value', () => {
  expect(jsonKey(1, { a: [0.5] })).toBe('f2a94747a8ac535bcd9dfdaa86841b86ccd16f8acdbd6a6dad3fd3c10ed693f6');
});
