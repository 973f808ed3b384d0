import { execFile } from 'node:child_process';
import { chmodSync, readdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { exchange } from '../../src/files/exchange.js';
import { scratch } from '../support/workbench.js';

const BUILT = new URL('../../dist/files/exchange.js', import.meta.url).href;
/** As a program on another machine would leave it, or have it while it writes. */
const elsewhere = (file: string) => file.replace(/([^/]+)$/, '.$1.00000000.1.000000000000.partial');

it('loses nothing where several processes put something to what is there', async () => {
  const file = join(scratch(), 'list.json');
  writeFileSync(file, '[]');
  const append = (name: string) =>
    promisify(execFile)(process.execPath, [
      '--input-type=module',
      '-e',
      `import { readFile } from 'node:fs/promises';
       import { exchange } from ${JSON.stringify(BUILT)};
       for (let i = 0; i < 60; i++) {
         await exchange(${JSON.stringify(file)}, async () =>
           JSON.stringify([...JSON.parse(await readFile(${JSON.stringify(file)}, 'utf8')), '${name}' + i]));
       }`,
    ]);
  await Promise.all(['a', 'b', 'c'].map(append));
  const expected = ['a', 'b', 'c'].flatMap((name) => Array.from({ length: 60 }, (_, i) => `${name}${i}`));
  expect((JSON.parse(readFileSync(file, 'utf8')) as string[]).sort()).toEqual(expected.sort());
  expect(readdirSync(join(file, '..'))).toEqual(['list.json']);
});

it('waits for whoever is writing', async () => {
  const file = join(scratch(), 'a.json');
  writeFileSync(file, 'old');
  // After every one of this machine by name, so that ours stays while it waits.
  const other = elsewhere(file).replace('00000000', 'ffffffff');
  writeFileSync(other, '');
  let asked = false;
  const written = exchange(file, async () => {
    asked = true;
    return 'new';
  });
  // Its own stands there too once it has begun.
  await expect.poll(() => readdirSync(join(file, '..')).length).toBe(3);
  expect([asked, readFileSync(file, 'utf8')]).toEqual([false, 'old']);
  rmSync(other);
  expect([await written, readFileSync(file, 'utf8')]).toEqual([true, 'new']);
});

it('goes on over what was left behind long ago', async () => {
  const file = join(scratch(), 'a.json');
  const other = elsewhere(file);
  writeFileSync(other, 'half of someth');
  utimesSync(other, 0, 0);
  expect(await exchange(file, async () => 'new')).toBe(true);
  expect(readdirSync(join(file, '..'))).toEqual(['a.json']);
});

it('asks again where its own was taken for left behind', async () => {
  const file = join(scratch(), 'a.json');
  const seen: string[] = [];
  writeFileSync(file, '0');
  await exchange(file, async () => {
    const now = readFileSync(file, 'utf8');
    seen.push(now);
    if (seen.length === 1) {
      const mine = readdirSync(join(file, '..')).find((name) => name.endsWith('.partial'));
      rmSync(join(file, '..', mine!));
      writeFileSync(file, '1');
    }
    return String(Number(now) + 1);
  });
  expect([seen, readFileSync(file, 'utf8')]).toEqual([['0', '1'], '2']);
});

it('gives up in one line that says what to remove', async () => {
  const file = join(scratch(), 'a.json');
  const other = elsewhere(file);
  writeFileSync(other, '');
  const trying = exchange(file, async () => 'new', { staleMs: 60_000, giveUpMs: -1 });
  await expect(trying).rejects.toMatchObject({
    code: 'file-unwritable',
    message: `${file}: cannot be written: ${other} stands beside it, of a program that is writing it or was stopped while it did; where none is running, remove that file`,
  });
  expect(readdirSync(join(file, '..'))).toHaveLength(1);
});

it('leaves what is to stay, and the permissions', async () => {
  const file = join(scratch(), 'a.json');
  writeFileSync(file, 'old');
  chmodSync(file, 0o640);
  expect(await exchange(file, async () => null)).toBe(false);
  expect(readFileSync(file, 'utf8')).toBe('old');
  await exchange(file, async () => 'new');
  expect([readFileSync(file, 'utf8'), statSync(file).mode & 0o777]).toEqual(['new', 0o640]);
});
