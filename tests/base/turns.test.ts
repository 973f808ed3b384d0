import { expect, it, vi } from 'vitest';
import { Turns } from '../../src/base/turns.js';

it('a turn is due after some work, and lets what waits go first', async () => {
  const clock = vi.spyOn(Date, 'now').mockReturnValue(0);
  const turns = new Turns();
  expect(turns.due).toBe(false);
  clock.mockReturnValue(1000);
  expect(turns.due).toBe(true);
  let waited = false;
  setTimeout(() => {
    waited = true;
  }, 0);
  await turns.take();
  expect([waited, turns.due]).toEqual([true, false]);
  clock.mockRestore();
});
