import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { Coming } from '../../src/workbench/coming.js';
import { scratch } from '../support/workbench.js';

const SECOND = 1000;

function coming() {
  const root = scratch();
  const clock = { now: 0 };
  return { root, clock, all: new Coming(root, () => clock.now) };
}

it('those of which nothing came for a minute make room for the next, and are removed', async () => {
  const { root, clock, all } = coming();
  const ids: string[] = [];
  for (let i = 0; i < 4; i++) ids.push(await all.begin());
  await expect(all.begin()).rejects.toThrow('expected at most 4 recordings at once');
  clock.now = 59 * SECOND;
  await all.use(ids[3]!, (files) => files.append('a.jpg', 0, Uint8Array.of(1)));
  await expect(all.begin()).rejects.toThrow('expected at most 4 recordings at once');
  clock.now = 60 * SECOND;
  await all.begin();
  expect(readdirSync(root)).toHaveLength(2);
  await expect(all.use(ids[0]!, async () => 0)).rejects.toThrow('not on its way any more');
  expect(await all.use(ids[3]!, async ({ names }) => names)).toEqual(['a.jpg']);
});

it('one that is being worked on stays, however long that takes', async () => {
  const { root, clock, all } = coming();
  const id = await all.begin();
  await all.use(id, async () => {
    clock.now = 3600 * SECOND;
    await all.begin();
    expect(readdirSync(root)).toHaveLength(2);
  });
});

it('no more begin than may, though they begin at once', async () => {
  const { root, all } = coming();
  const begun = await Promise.allSettled(Array.from({ length: 8 }, () => all.begin()));
  expect(begun.filter(({ status }) => status === 'fulfilled')).toHaveLength(4);
  expect(readdirSync(root)).toHaveLength(4);
});
