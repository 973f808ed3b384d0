import { describe, expect, it } from 'vitest';
import {
  busySeconds,
  isActive,
  levelOf,
  photoTimes,
  TriggerMachine,
  triggersOf,
} from '../../src/engine/triggers.js';

/** Fires over frames one second apart; `#` is an active frame. */
const fired = (frames: string, persistence: number, busy: number) =>
  triggersOf(
    Array.from(frames, (_, k) => k),
    (k) => frames[k] === '#',
    persistence,
    busy,
  );

describe('the smallest level that counts at a threshold', () => {
  it.each([
    [24, 24],
    [24.2, 25],
    [0.3, 1],
    [255, 255],
    [24 + 1e-12, 24], // a dial's straight line, rounded
    [24 - 1e-12, 24],
  ])('%d: %i', (threshold, level) => {
    expect(levelOf(threshold)).toBe(level);
  });
});

describe('an active frame', () => {
  it('needs the minimum area', () => {
    expect(isActive(99, 99, 100, 1000)).toBe(false);
    expect(isActive(100, 100, 100, 1000)).toBe(true);
  });

  it('must not change beyond the maximum in all, whatever its region', () => {
    expect(isActive(100, 1000, 100, 1000)).toBe(true);
    expect(isActive(100, 1001, 100, 1000)).toBe(false);
  });
});

describe('triggers', () => {
  it('fire at the last of the active frames in a row', () => {
    expect(fired('.##.###.', 3, 0)).toEqual([6]);
  });

  it('do not come while busy', () => {
    expect(fired('#########', 1, 3)).toEqual([0, 3, 6]);
  });

  it('count anew after the busy time: frames in it do not count', () => {
    expect(fired('#########', 2, 3)).toEqual([1, 5]);
  });

  it('count anew after a trigger without busy time', () => {
    expect(fired('######', 2, 0)).toEqual([1, 3, 5]);
  });

  it('may come at the very end of the busy time, to within a nanosecond', () => {
    // 0.1 + 0.2 is a little more than 0.3 in floating point.
    expect(triggersOf([0.1, 0.2, 0.3, 0.4], () => true, 1, 0.2)).toEqual([0, 2]);
  });

  it('do not come before its end', () => {
    expect(triggersOf([0, 0.999_999_99, 1], () => true, 1, 1)).toEqual([0, 2]);
  });

  it('ask nothing about frames in the busy time', () => {
    const asked: number[] = [];
    triggersOf(
      [0, 1, 2, 3],
      (k) => {
        asked.push(k);
        return true;
      },
      1,
      2.5,
    );
    expect(asked).toEqual([0, 3]);
  });
});

it('a machine takes plain answers too, and tells when it is busy', () => {
  const machine = new TriggerMachine(1, 2);
  expect(machine.isBusy(0)).toBe(false);
  expect(machine.step(0, true)).toBe(true);
  expect(machine.isBusy(1.9)).toBe(true);
  expect(machine.step(1.9, true)).toBe(false);
  expect(machine.isBusy(2)).toBe(false);
  expect(machine.step(2, false)).toBe(false);
});

it('a burst can outlast the cooldown', () => {
  expect(busySeconds(10, 0.8, 3, 1)).toBe(10);
  expect(busySeconds(2, 0.75, 3, 1)).toBe(2.75);
});

it('photos follow the shutter lag at their interval', () => {
  expect(photoTimes(10, 0.5, 3, 2)).toEqual([10.5, 12.5, 14.5]);
});
