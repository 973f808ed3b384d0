import { describe, expect, it } from 'vitest';
import { photosATrigger } from '../../../src/outing/evening/photos-a-trigger.js';

/** Triggers every 10 minutes, each with photos so many seconds after it. */
const triggers = (count: number, after: readonly number[]) =>
  Array.from({ length: count }, (_, i) => after.map((seconds) => 600 * i + seconds)).flat();

describe('photos a trigger, by the photos themselves', () => {
  it.each<[string, number[], number | null]>([
    ['one by one', triggers(20, [0]), 1],
    ['three at once', triggers(20, [0, 1, 2]), 3],
    ['three at once, one of them deleted now and then', [...triggers(20, [0, 1, 2])].toSpliced(30, 1), 3],
    ['too few of them', triggers(7, [0]), null],
    [
      'some alone and some by two',
      [...triggers(10, [0]), ...triggers(10, [0, 1]).map((t) => t + 6000)],
      null,
    ],
    // One photo of each of two triggers, or two of one.
    ['two of them ten seconds apart', triggers(20, [0, 10]), null],
    ['none', [], null],
  ])('%s', (_, times, told) => {
    expect(photosATrigger(times)).toBe(told);
  });
});
