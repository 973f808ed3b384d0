import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { readTemplate } from '../../src/files/template.js';

const dir = mkdtempSync(join(tmpdir(), 'template-'));
afterAll(() => rmSync(dir, { recursive: true, force: true }));

const known = ['sensitivity', 'cool.down', 'threshold'];
const values = { sensitivity: 7, 'cool.down': 10, threshold: 0.5 };

function read(text: string | Uint8Array, name = 'camera.conf') {
  writeFileSync(join(dir, name), text);
  return readTemplate(join(dir, name), known);
}

test.each([
  ['a={{sensitivity}}\nb={{ threshold }}\n', 'a=7\nb=0.5\n'],
  ['"{{cool.down}}" & <{{{sensitivity}}}>', '"10" & <7>'],
  ['{"a":{"b":{{sensitivity}}}}', '{"a":{"b":7}}'],
  ['{ "a": { "b": 1 }}{{! a remark }}\t{{sensitivity}}', '{ "a": { "b": 1 }}\t7'],
])('%j is filled in', async (text, filled) => {
  expect(Buffer.from((await read(text)).fill(values)).toString()).toBe(filled);
});

test.each(['latin1', 'utf8'] as const)('what is not a name stays as it is: %s', async (encoding) => {
  const text = (level: string) => Buffer.from(`# M\u00f6we \u00a0\u00ff ${level} caf\u00e9\r\n`, encoding);
  const filled = (await read(text('{{sensitivity}}'))).fill(values);
  expect(Buffer.from(filled).equals(text('7'))).toBe(true);
});

test.each([
  ['a picture', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0x7b, 0x7b])],
  ['text of two bytes a letter', Buffer.from('{{sensitivity}}', 'utf16le')],
])('%s is told to be no text', async (_, bytes) => {
  await expect(read(bytes)).rejects.toThrow(/camera\.conf: this is no text file/);
});

test.each([
  ['{{gr\u00f6\u00dfe}}', /there is no 'gr\u00f6\u00dfe'/],
  [
    '\n\n{{sensitivty}}',
    /line 3: there is no 'sensitivty' \(did you mean 'sensitivity'\?\); the names it may hold are sensitivity, cool\.down, threshold/,
  ],
  ['{{constructor}}', /there is no 'constructor'/],
  ['{{}}', /there is no ''/],
  ['{{#sensitivity}}x{{/sensitivity}}', /found a section/],
  ['{{^sensitivity}}x{{/sensitivity}}', /found an inverted section/],
  ['{{#sensitivity}}x', /found a section/],
  ['{{/sensitivity}}', /found a section/],
  ['{{> other}}', /found a partial/],
  ['{{=<% %>=}}<%sensitivity%>', /found a change of braces/],
  ['a={{sensitivity}}\nb={{threshold', /line 2: expected two braces that close a name/],
  ['a={{sensitivity}\nb={{threshold}}', /line 1: expected two braces that close a name/],
  ['a={sensitivity}} {{threshold}}', /two closing braces that nothing opens/],
  ['a={sensitivity}', /expected a name in double braces, such as {{sensitivity}}, found none/],
])('%j is refused in one line', async (text, said) => {
  await expect(read(text)).rejects.toMatchObject({
    name: 'Problem',
    message: expect.stringMatching(said),
  });
});

test('the ending is that of the template', async () => {
  expect((await read('{{threshold}}', 'a.b.toml')).ending).toBe('.toml');
  expect((await read('{{threshold}}', 'config')).ending).toBe('');
});
