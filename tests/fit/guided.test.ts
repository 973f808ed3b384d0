import { expect, it } from 'vitest';
import { closeness } from '../../src/fit/score/agreement.js';
import { guidedCloseness } from '../../src/fit/score/guided.js';
import { findRuns, march, roomForRuns } from '../../src/sweep/march.js';

const times = Float64Array.from({ length: 500 }, (_, k) => k / 5);
const tolerance = { most: 0.5, free: 0.5, span: null };
/** Frames of 1, but for some of 0. */
const columnWith = (still: (time: number) => boolean) => Uint32Array.from(times, (t) => (still(t) ? 0 : 1));

function both(column: Uint32Array, fired: readonly number[], persistence: number, cooldown: number) {
  const wanted = { fired: Float64Array.from(fired), tolerance, from: 0, to: 95 };
  const runs = findRuns(column, null, 1, 0, roomForRuns(times.length));
  const predicted: number[] = [];
  march(runs, times, persistence, cooldown, (frame) => {
    if (times[frame]! < 95) predicted.push(times[frame]!);
  });
  return {
    alone: closeness(wanted.fired, predicted, predicted.length, tolerance),
    guided: guidedCloseness(runs, times, persistence, cooldown, wanted),
    predicted,
  };
}

it('one trigger too many puts a camera that something keeps firing out of step by itself, and counts once when the times lead', () => {
  const fired = Array.from({ length: 19 }, (_, i) => 2.5 + 5 * i);
  const { alone, guided } = both(
    columnWith(() => false),
    fired,
    1,
    5,
  );
  expect(alone).toBe(0);
  expect(guided).toBeCloseTo((2 * 19) / (19 + 20), 9);
});

it('one that is missed keeps it busy as if it had fired', () => {
  // Still while it should fire first, and until that trigger's busy time would end.
  const fired = Array.from({ length: 19 }, (_, i) => 5 * i + 1);
  const { guided } = both(
    columnWith((time) => time < 3),
    fired,
    1,
    5,
  );
  expect(guided).toBeCloseTo((2 * 18) / (19 + 18), 9);
});

it('what explains all of the times comes to 1 either way', () => {
  const column = columnWith((time) => Math.floor(time * 1.3) % 4 === 0);
  const { predicted } = both(column, [], 2, 3);
  const { alone, guided } = both(column, predicted, 2, 3);
  expect({ alone, guided }).toEqual({ alone: 1, guided: 1 });
});

it('nothing that fires is worth nothing', () => {
  expect(
    both(
      columnWith(() => true),
      [3, 9],
      1,
      5,
    ).guided,
  ).toBe(0);
});
