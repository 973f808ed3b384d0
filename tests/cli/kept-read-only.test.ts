import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { kept } from '../../src/jobs/kept.js';
import { Cache } from '../../src/store/cache.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'kept-read-only-'));
afterAll(() => rmSync(folder, { recursive: true }));
// Nothing can be written there, not even by root, whom permissions do not bind.
const file = join(folder, 'a-file');
writeFileSync(file, 'no folder');

it('of a cache in the place of which another stands for the run, kept tells what is in it', async () => {
  const root = join(folder, 'cache');
  mkdirSync(join(root, 'evidence', 'a'), { recursive: true });
  writeFileSync(join(root, 'evidence', 'a', 'chunk-0'), Buffer.alloc(3_000_000));
  writeFileSync(join(root, 'limit'), '{"bytes":7000000000}');
  const cache = new Cache(join(folder, 'stand-in'), () => undefined, root);
  expect(await kept({}, { cache })).toMatchObject({ folder: root, bytes: 3_000_000, limit: 7e9, removed: 0 });
});

it('and where nothing can be there, that there is nothing', async () => {
  const { code, out } = await commandIn(folder, file)('kept', '--json');
  expect(code).toBe(0);
  expect(JSON.parse(out)).toMatchObject({ folder: file, bytes: 0 });
});

it.each([
  ['a limit', ['--limit', '5']],
  ['clearing', ['--clear']],
])('%s is refused there in one line', async (_, args) => {
  const { code, out, err } = await commandIn(folder, file)('kept', ...args);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toMatch(/^perchmark: \S*a-file: cannot be written \(E[A-Z]+\): [^\n]+\n$/);
  expect(readFileSync(file, 'utf8')).toBe('no folder');
});

it('so is what a stand-in is asked to change', async () => {
  const cache = new Cache(join(folder, 'stand-in'), () => undefined, file);
  await expect(kept({ clear: true }, { cache })).rejects.toMatchObject({ code: 'file-unwritable' });
});
