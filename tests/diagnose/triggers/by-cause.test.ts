import { expect, test } from 'vitest';
import type { CauseName, ExplainedTrigger } from '../../../src/diagnose/diagnosis.js';
import { busiestMinute, byCause } from '../../../src/diagnose/triggers/by-cause.js';

const fired = (time: number, cause: CauseName, probability = 0.9): ExplainedTrigger => ({
  time,
  cause,
  probability,
  evidence: '',
  box: [0, 0, 0.1, 0.1],
});

test('the commonest cause comes first and what is unknown last, however common', () => {
  const counts = byCause([
    fired(1, 'unknown'),
    fired(2, 'unknown'),
    fired(3, 'unknown'),
    fired(4, 'rain'),
    fired(5, 'wind'),
    fired(6, 'wind'),
  ]);
  expect(counts.map(({ cause, triggers }) => [cause, triggers.length])).toEqual([
    ['wind', 2],
    ['rain', 1],
    ['unknown', 3],
  ]);
});

test('the strongest of a cause is the one put down to it most surely', () => {
  const [wind] = byCause([fired(1, 'wind', 0.6), fired(2, 'wind', 0.95), fired(3, 'wind', 0.7)]);
  expect(wind?.strongest.time).toBe(2);
});

test('no triggers have no causes', () => {
  expect(byCause([])).toEqual([]);
});

test('the busiest minute is the first of those with the most', () => {
  const times = [10, 61, 65, 130, 131, 300];
  expect(busiestMinute(times.map((time) => fired(time, 'wind')))).toEqual({ start: 60, count: 2 });
});
