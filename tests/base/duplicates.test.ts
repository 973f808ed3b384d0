import fc from 'fast-check';
import { expect, it } from 'vitest';
import { duplicateIn } from '../../src/base/duplicates.js';

it.each<[string, (string | number)[], [number, number]]>([
  ['{"a":1,"a":2}', ['a'], [1, 1]],
  ['{"a":1,\n"b":2,\n"a" : 3}', ['a'], [1, 3]],
  ['{"a":[{"b":1},{"b":1,"c":{"d":[],"e":0,"d":[]}}]}', ['a', 1, 'c', 'd'], [1, 1]],
  ['[[1,2],[{},{"x":1,"x":1}]]', [1, 1, 'x'], [1, 1]],
  // The same name written otherwise.
  [String.raw`{"visits":[],"v\u0069sits":[]}`, ['visits'], [1, 1]],
  [String.raw`{"a\"b":1,"a\"b":2}`, ['a"b'], [1, 1]],
  ['{"":1,"":2}', [''], [1, 1]],
  ['{"__proto__":1,"__proto__":2}', ['__proto__'], [1, 1]],
])('finds the field that stands twice in %s', (text, path, lines) => {
  expect(duplicateIn(text)).toEqual({ path, lines });
});

it.each([
  '{"a":{"a":1},"b":{"a":1}}',
  '[{"a":1},{"a":1}]',
  '{"a":"a","b":"a"}',
  // Brackets, colons and quotation marks in strings mean nothing.
  String.raw`{"a":"\"a\":","b":"{\"a\":1,\"a\":2}","c":"\\"}`,
  '["a","a"]',
  '"a"',
  '7',
])('finds none in %s', (text) => {
  expect(duplicateIn(text)).toBeNull();
});

it('finds none in whatever was written from values, and finds any field written once more', () => {
  fc.assert(
    fc.property(fc.json(), (text) => {
      expect(duplicateIn(text)).toBeNull();
    }),
  );
  const object = fc.dictionary(fc.string(), fc.jsonValue(), { minKeys: 1 });
  fc.assert(
    fc.property(object, fc.nat(), (value, pick) => {
      const names = Object.keys(value);
      const name = names[pick % names.length]!;
      const text = `[0,${JSON.stringify(value).slice(0, -1)},${JSON.stringify(name)}:0}]`;
      expect(duplicateIn(text)?.path).toEqual([1, name]);
    }),
  );
});

it('goes as deep as the text does', () => {
  const deep = `${'['.repeat(100_000)}{"a":1,"a":2}${']'.repeat(100_000)}`;
  expect(duplicateIn(deep)?.path).toHaveLength(100_001);
});
