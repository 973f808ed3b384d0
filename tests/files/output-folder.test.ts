import { existsSync, symlinkSync, writeFileSync } from 'node:fs';
import { mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { liesIn, openOutputFolder } from '../../src/files/output-folder.js';
import { tempDir } from '../clip/fixtures.js';

let dir: string;
const at = (...names: string[]) => join(dir, ...names);

beforeEach(async () => {
  dir = await tempDir();
  await mkdir(at('clip'));
  writeFileSync(at('clip', 'clip.json'), '{}');
  writeFileSync(at('file'), 'mine');
  symlinkSync(at('clip'), at('link'));
});

test('a new folder is made, with those on the way, and left empty', async () => {
  await openOutputFolder('--write', at('a', 'b'));
  expect(await readdir(at('a', 'b'))).toEqual([]);
});

test.each([
  ['a clip', 'clip', /this is a clip/],
  ['a folder in a clip', 'clip/a/b', /lies in the clip/],
  ['a link into a clip', 'link/a', /lies in the clip/],
  ['a file', 'file', /this is no folder/],
  ['nothing', '', /expected the name of a folder/],
])('%s is refused, and nothing is made', async (_, name, message) => {
  await expect(openOutputFolder('--write', name && at(name))).rejects.toMatchObject({
    name: 'Problem',
    message: expect.stringMatching(message),
  });
  expect(existsSync(at('clip', 'a'))).toBe(false);
});

test.each([
  ['clip', true],
  ['clip/new', true],
  ['clip/..new/deep', true],
  ['link/new', true],
  ['inner/new', true],
  ['clip-2', false],
  ['..', false],
])('whether %s lies in the clip is %s, over all links', async (name, lies) => {
  await mkdir(at('clip', 'frames'));
  symlinkSync(at('clip', 'frames'), at('inner'));
  expect(await liesIn(at(name), at('clip'))).toBe(lies);
  expect(await liesIn(at(name), at('link'))).toBe(lies);
});
