import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
// @ts-expect-error: what builds is plain JavaScript
import { removeOlder } from '../../src/older.js';
import { scratch } from '../support/workbench.js';

const HOUR = 3_600_000;

it('a file of an older program outlasts a build by a day, for a run under way may yet load it, and nothing else does', () => {
  const dist = scratch();
  for (const folder of ['program', 'cli']) mkdirSync(join(dist, folder), { recursive: true });
  for (const name of ['program/main.js', 'program/report-older.js', 'cli/older.js']) {
    writeFileSync(join(dist, name), '');
  }
  const wanted = new Set([join('program', 'main.js')]);
  const leftAt = (now: number, only = false) => {
    removeOlder(dist, { wanted, only, now });
    return readdirSync(dist, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.js'))
      .sort();
  };
  const both = [join('program', 'main.js'), join('program', 'report-older.js')];
  expect(leftAt(0)).toEqual(both);
  expect(leftAt(23 * HOUR)).toEqual(both);
  expect(leftAt(25 * HOUR)).toEqual([...wanted]);
  writeFileSync(join(dist, 'program', 'report-older.js'), '');
  expect(leftAt(26 * HOUR)).toEqual(both);
  expect(leftAt(26 * HOUR, true)).toEqual([...wanted]);
});
