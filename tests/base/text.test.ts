import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Problem } from '../../src/base/problem.js';
import { oneLine, quoted, short, visible, visibleJson, visibleName } from '../../src/base/text.js';

const anything = fc.string({ unit: 'binary', maxLength: 40 });
// biome-ignore lint/suspicious/noControlCharactersInRegex: it is they that must not come through
const acting = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/;

describe('a text that is shown', () => {
  it.each([
    ['\u001b[31mred\u0007', '\\u001b[31mred\\u0007'],
    ['nul\u0000', 'nul\\u0000'],
    ['\u009b2J', '\\u009b2J'],
    ['\u202egnp.exe', '\\u202egnp.exe'],
    ['half \ud83d', 'half \\ud83d'],
    ['Gärten – 🐦\n\tü', 'Gärten – 🐦\n\tü'],
  ])('%j spells out what would act', (given, shown) => {
    expect(visible(given)).toBe(shown);
  });

  it('acts on nothing, whatever it holds', () => {
    fc.assert(
      fc.property(anything, (text) => {
        expect(visible(text)).not.toMatch(acting);
      }),
    );
  });

  it('stays in its line as a name', () => {
    expect(visibleName('a\nb\tc\r')).toBe('a\\nb\\tc\\r');
  });
});

describe('a JSON document that is printed', () => {
  it('acts on nothing and means the same', () => {
    fc.assert(
      fc.property(anything, (text) => {
        const printed = visibleJson(JSON.stringify({ [text]: text }, null, 2));
        expect(printed).not.toMatch(acting);
        expect(JSON.parse(printed)).toEqual({ [text]: text });
      }),
    );
  });
});

describe('a message', () => {
  it('is one line that says what it is about and what to do, however much is quoted in it', () => {
    const line = oneLine(`a.json: ${'x'.repeat(20_000_000)}: mend it`);
    expect(line.length).toBeLessThan(4000);
    expect(line).toMatch(/^a\.json: x+\.\.\.x+: mend it$/);
    const words = oneLine(`a.json: ${'word '.repeat(1_000_000)}: mend it`);
    expect(words.length).toBeLessThan(4000);
    expect(words).toMatch(/^a\.json: word .*: mend it$/);
  });

  it.each([
    ['one\n  two', 'one two'],
    ['one\r\ntwo\u001b', 'one two\\u001b'],
  ])('%j is that of a Problem', (given, line) => {
    expect(new Problem('usage', given).message).toBe(line);
  });
});

describe('what is quoted', () => {
  it('is cut to eighty characters', () => {
    expect(quoted('a"b')).toBe('"a\\"b"');
    expect(short('x'.repeat(80))).toBe('x'.repeat(80));
    expect(short('x'.repeat(81))).toBe(`${'x'.repeat(77)}...`);
    expect(short(`${'x'.repeat(76)}🐦🐦🐦`)).toBe(`${'x'.repeat(76)}...`);
  });
});
