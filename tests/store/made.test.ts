import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openOutput } from '../../src/files/output.js';
import { madeIn } from '../../src/store/made.js';
import { tempCache, tempDir } from '../clip/fixtures.js';
import { damages } from '../support/damages.js';

test.each(Object.keys(damages))('with the note %s a file is left alone until --force', async (damage) => {
  const cache = await tempCache();
  const page = join(await tempDir(), 'page.html');
  const rules = { reads: [], force: false, made: madeIn(cache) };
  await (await openOutput('--report', page, rules)).write('one');
  damages[damage]!(cache.path('made', readdirSync(cache.path('made'))[0]!));
  await expect(openOutput('--report', page, rules)).rejects.toThrow(/did not make.*--force/);
  expect(readFileSync(page, 'utf8')).toBe('one');
  await (await openOutput('--report', page, { ...rules, force: true })).write('two');
  await (await openOutput('--report', page, rules)).write('three');
  expect(readFileSync(page, 'utf8')).toBe('three');
});

test('a file that was noted, but not written for the run was killed, may be written over, and so may the new one', async () => {
  const made = madeIn(await tempCache());
  for (const digest of ['one', 'two', 'three', 'three']) await made.note('page.html', digest);
  const known = await Promise.all(['one', 'two', 'three'].map((digest) => made.knows('page.html', digest)));
  expect(known).toEqual([false, true, true]);
});
