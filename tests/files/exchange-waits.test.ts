import { readdirSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { beforeEach, expect, it } from 'vitest';
import { exchange } from '../../src/files/exchange.js';
import { scratch } from '../support/workbench.js';

const seen = { listings: 0, pauses: [] as number[], afterPause: () => {} };
beforeEach(() => Object.assign(seen, { listings: 0, pauses: [], afterPause: () => {} }));
const patience = {
  staleMs: 30_000,
  giveUpMs: 60_000,
  list: (folder: string) => {
    seen.listings++;
    return readdir(folder);
  },
  pause: async (ms: number) => {
    seen.pauses.push(ms);
    seen.afterPause();
    await setTimeout(1);
  },
};

/** As a program on another machine has it while it writes; it goes after all of this process, by name. */
function held(file: string): string {
  const other = file.replace(/([^/]+)$/, '.$1.ffffffff.1.ffffffffffff.partial');
  writeFileSync(other, '');
  // Never left behind, however long this takes.
  utimesSync(other, 4e9, 4e9);
  return other;
}

it('lists the folder once where nobody else writes', async () => {
  await exchange(join(scratch(), 'a.json'), async () => 'new', patience);
  expect(seen).toMatchObject({ listings: 1, pauses: [] });
});

it('looks ever more seldom while it waits, once each time', async () => {
  const file = join(scratch(), 'a.json');
  const other = held(file);
  seen.afterPause = () => {
    if (seen.pauses.length === 8) rmSync(other);
  };
  await exchange(file, async () => 'new', patience);
  expect(seen).toMatchObject({ listings: 9, pauses: [5, 10, 20, 40, 80, 160, 200, 200] });
});

it('is never taken for left behind while it waits', async () => {
  const file = join(scratch(), 'a.json');
  const other = held(file);
  const mine = () => readdirSync(join(file, '..')).find((name) => !/ffffffff|^a/.test(name));
  let ticket: string | undefined;
  seen.afterPause = () => {
    const name = mine();
    if (name === undefined) return;
    const path = join(file, '..', name);
    if (ticket === undefined) {
      ticket = name;
      utimesSync(path, 1, 1);
    } else if (statSync(path).mtimeMs > 1000 || seen.pauses.length > 500) rmSync(other, { force: true });
  };
  // Marked as alive again before others would sweep it, and the same one all the time.
  await exchange(
    file,
    async () => {
      expect(mine()).toBe(ticket);
      return '';
    },
    { ...patience, staleMs: 40 },
  );
  expect(seen.pauses.length).toBeLessThan(500);
  expect(statSync(file).size).toBe(0);
});
