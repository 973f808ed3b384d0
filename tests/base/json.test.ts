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

it('is told what a list is in words that are not those of a library', () => {
  expect(refusal('{"version":1,"list":5}')).toBe('a.json: list: expected a list in [ ], found 5');
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

describe('a field', () => {
  it.each([
    ['{"version":1,"__proto__":[1]}', '"__proto__" is no name that a field can have'],
    ['{"version":1,"list":[{"\\u005f_proto__":1}]}', '"__proto__" is no name that a field can have'],
    ['{"version":1,"constructor":1}', 'constructor: unknown field; known here: version, list;'],
    ['{"version":1,"toString":1}', 'toString: unknown field; known here: version, list;'],
  ])('that every object has is no field of this one: %s', (text, told) => {
    expect(refusal(text)).toContain(told);
  });

  it('with a name of twenty megabytes is named by its beginning', () => {
    expect(refusal(`{"version":1,"${'k'.repeat(20_000_000)}":1}`)).toMatch(
      /^a\.json: k{77}\.\.\.: unknown field/,
    );
  });

  it('whose name would act on a terminal is shown with that spelled out', () => {
    expect(refusal('{"version":1,"\\u001b[2J":1}')).toMatch(/^a\.json: \\u001b\[2J: unknown field/);
  });
});

describe('a number', () => {
  const numbers = z.strictObject({
    n: z.number().gt(0).max(5),
    i: z.int().min(1).max(9),
    open: z.number().min(2),
  });
  const told = (given: object) => {
    try {
      parseJson(JSON.stringify({ n: 1, i: 1, open: 2, ...given }), 'a.json', numbers, 'numbers');
    } catch (error) {
      return (error as Problem).message;
    }
    return 'taken';
  };

  it.each([
    [{ n: 0 }, 'a.json: n: expected a number above 0 and up to 5, found 0'],
    [{ n: 6 }, 'a.json: n: expected a number above 0 and up to 5, found 6'],
    [{ n: '3' }, 'a.json: n: expected a number above 0 and up to 5 (without quotation marks), found "3"'],
    [{ n: null }, 'a.json: n: expected a number above 0 and up to 5, found null'],
    [{ i: 1.5 }, 'a.json: i: expected a whole number from 1 to 9, found 1.5'],
    [{ i: 1e300 }, 'a.json: i: expected a whole number from 1 to 9, found 1e+300'],
    [{ open: 1 }, 'a.json: open: expected a number of at least 2, found 1'],
  ])('out of its range is told the range: %j', (given, message) => {
    expect(told(given)).toBe(message);
  });
});

describe('one of several kinds', () => {
  const kinds = z.strictObject({
    reference: z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('previous') }),
      z.strictObject({ kind: z.literal('average') }),
    ]),
    dial: z.union([z.strictObject({ from: z.number() }), z.strictObject({ choices: z.array(z.number()) })]),
  });
  const told = (given: object) => {
    const whole = { reference: { kind: 'average' }, dial: { from: 1 }, ...given };
    return () => parseJson(JSON.stringify(whole), 'a.json', kinds, 'kinds');
  };

  it.each([
    [
      { reference: { kind: 'median' } },
      'a.json: reference.kind: expected "previous" or "average", found "median"',
    ],
    [{ dial: 5 }, 'a.json: dial: expected an object with from, or one with choices, found 5'],
  ])('is told which there are: %j', (given, message) => {
    expect(told(given)).toThrow(message);
  });
});

describe('a file', () => {
  it('that holds nothing is empty', () => {
    expect(refusal('')).toBe('a.json: the file is empty; expected a list');
    expect(refusal(' \n')).toBe('a.json: the file is empty; expected a list');
  });

  it('may have a byte order mark and line breaks of any system', () => {
    expect(parse('\uFEFF{\r\n"version": 1}\r\n')).toEqual({ version: 1 });
  });

  it.each(['NaN', '{"version":NaN}', '{"version":Infinity}', '{"version":1}\u0000', "{'version':1}"])(
    'with what is no JSON is refused: %j',
    (text) => {
      expect(refusal(text)).toMatch(/^a\.json: not valid JSON \(.*\); expected a list$/);
    },
  );

  it.each([
    [
      '{ "visits": [\n  { "name": "wren" },\n  { "name": "wren" },\n], "ignored": [] }',
      'a comma too many before ], line 4 at letter 1',
    ],
    ['{ "version": 1, }', 'a comma too many before }, line 1 at letter 17'],
    ['{ "version": 1,\n"end": 0:10 }', /^Expected .*, line 2 at letter 9$/],
    ['{ "version": 1,\n"end": x"0:10" }', "Unexpected token 'x', line 2 at letter 8"],
    ['{ "version": 1,\n"end": [,] }', "Unexpected token ',', line 2 at letter 9"],
    ['{ "version": 1 }\n}', /^Unexpected non-whitespace character, line 2 at letter 1$/],
  ])('is told its first fault by line and letter, once: %j', (text, fault) => {
    const told = /^a\.json: not valid JSON \((.*)\); expected a list$/s.exec(refusal(text));
    expect(told?.[1]).toEqual(typeof fault === 'string' ? fault : expect.stringMatching(fault));
  });
});
