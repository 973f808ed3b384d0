import { XMLValidator } from 'fast-xml-parser';
import { parse } from 'junit2json';
import { expect, it } from 'vitest';
import { check } from '../../src/check/check.js';
import { junitXml } from '../../src/report/junit.js';
import { clip, results, suiteOf, triggers, visit } from '../check/made.js';

const hostile = 'a "calm" <clip> & \'more\' \u0007 ]]> ü 🐦';
const before = results(
  clip(hostile, [visit(10, true, '<wren & co>'), visit(20, true)]),
  clip('windy', [visit(10, true)], triggers('false', 5)),
);
const now = results(
  clip(hostile, [visit(10, false, '<wren & co>'), visit(20, true)], triggers('false', 50)),
  before.clips[1]!,
);
const suite = suiteOf(before, { limits: { recall: 0.5, falsePerHour: 0.1 } });
const xml = junitXml('garden & <shed>', check(suite, before, now));
/** As it stands in the file: XML 1.0 has no place for a bell, so it is spelled out. */
const readable = hostile.replace('\u0007', '\\u0007');

it('is read back by an independent parser, with the counts of what is in it', async () => {
  const read = await parse(xml);
  expect(read).toMatchObject({ name: 'garden & <shed>', tests: 4, failures: 2, errors: 0 });
  const suites = (read as { testsuite: { name: string; tests: number; failures: number }[] }).testsuite;
  expect(suites.map(({ name, tests, failures }) => [name, tests, failures])).toEqual([
    ['clips', 2, 1],
    ['limits', 2, 1],
  ]);
});

it('holds a case for each clip and each limit, with what failed and why', async () => {
  const read = (await parse(xml)) as unknown as {
    testsuite: {
      testcase: { name: string; classname: string; failure?: { message: string; inner: string }[] }[];
    }[];
  };
  const cases = read.testsuite.flatMap(({ testcase }) => testcase);
  expect(cases.map(({ name, classname }) => [classname, name])).toEqual([
    ['clips', readable],
    ['clips', 'windy'],
    ['limits', 'all clips: recall (visits caught, by luck too) at least 0.5'],
    ['limits', 'all clips: falsePerHour at most 0.1'],
  ]);
  expect(cases.map(({ failure }) => failure?.[0]?.message)).toEqual([
    `${readable}: newly lost a visit`,
    undefined,
    undefined,
    'all clips: fires falsely at 1 an hour, at most 0.1 an hour is allowed',
  ]);
  expect(cases[0]?.failure?.[0]?.inner).toBe(
    'verdict: worse\nnewly lost: 0:10.0-0:12.0 <wren & co>\nnew false triggers: 0:50.0',
  );
});

it('is well-formed whatever a clip is called', () => {
  expect(XMLValidator.validate(xml)).toBe(true);
});
