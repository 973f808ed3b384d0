import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { parseJson } from '../../src/base/json.js';
import { Problem } from '../../src/base/problem.js';

const schema = z.strictObject({ version: z.literal(1), list: z.array(z.number()).optional() });
const parse = (text: string) => parseJson(text, 'a.json', schema, 'a list');

/** What is refused is one Problem, whose message is one line. */
function refusal(text: string): string {
  try {
    parse(text);
  } catch (error) {
    expect(error).toBeInstanceOf(Problem);
    expect((error as Problem).message).not.toContain('\n');
    return (error as Problem).message;
  }
  throw new Error('expected a refusal, found none');
}

describe('"$schema"', () => {
  it('may stand at the top of any file, and nobody is handed it', () => {
    expect(parse('{"$schema":"./list.schema.json","version":1}')).toEqual({ version: 1 });
  });

  it('is a string', () => {
    expect(refusal('{"$schema":7,"version":1}')).toBe('a.json: $schema: expected a string, found 7');
  });
});

describe('a field that stands twice', () => {
  it('is refused with its place, for the last would be taken without a word', () => {
    expect(refusal('{"version":1,\n"list":[1],\n"list":[]}')).toBe(
      'a.json: list: expected each field once, found "list" twice (lines 2 and 3); keep one of them',
    );
  });

  it('is refused deep inside too', () => {
    expect(refusal('{"version":1,"list":[{"a":{"b":1,"b":1}}]}')).toMatch(/^a\.json: list\[0\]\.a\.b: /);
  });
});

describe('what was found', () => {
  it.each([
    ['"x"', '"x"'],
    ['null', 'null'],
    ['{"a":[1,"b",null,true]}', '{"a":[1,"b",null,true]}'],
    ['1e999', 'Infinity'],
    ['[{},[]]', '[{},[]]'],
  ])('%s is shown as JSON', (given, shown) => {
    expect(refusal(`{"version":1,"list":[${given}]}`)).toBe(
      `a.json: list[0]: expected a number, found ${shown}`,
    );
  });

  it('is cut short where it is long', () => {
    expect(refusal(`{"version":1,"list":["${'x'.repeat(100)}"]}`)).toBe(
      `a.json: list[0]: expected a number, found "${'x'.repeat(56)}...`,
    );
  });

  it.each([
    ['arrays', '['.repeat(5000) + ']'.repeat(5000)],
    ['objects', `${'{"a":'.repeat(5000)}0${'}'.repeat(5000)}`],
  ])('may be nested deep: %s', (_, deep) => {
    const lines = [
      refusal(deep),
      refusal(`{"version":1,"list":${deep}}`),
      refusal(`{"version":1,"list":[${deep}]}`),
      refusal(`{"version":1,"other":${deep}}`),
    ];
    expect(lines.map((line) => line.length < 200)).toEqual([true, true, true, true]);
  });
});
