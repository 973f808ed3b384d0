import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestCourse, changesIn } from '../../src/plan/course.js';

const totalOf = (
  course: readonly number[],
  worth: readonly (readonly number[])[],
  may: readonly boolean[],
  cost: number,
) => {
  const walks = changesIn(course);
  if (walks.some((hour) => !may[hour])) return Number.NEGATIVE_INFINITY;
  return course.reduce((sum, state, hour) => sum + worth[hour]![state]!, 0) - cost * walks.length;
};

/** The best of all sequences, tried one by one. */
const bruteForce = (worth: readonly (readonly number[])[], may: readonly boolean[], cost: number) => {
  const states = worth[0]!.length;
  let best = Number.NEGATIVE_INFINITY;
  for (let code = 0; code < states ** worth.length; code++) {
    const course = worth.map((_, hour) => Math.floor(code / states ** hour) % states);
    best = Math.max(best, totalOf(course, worth, may, cost));
  }
  return best;
};

describe('the best course', () => {
  it('is worth as much as the best of all sequences', () => {
    const hour = (states: number) =>
      fc.tuple(
        fc.array(fc.integer({ min: -9, max: 9 }), { minLength: states, maxLength: states }),
        fc.boolean(),
      );
    const week = fc
      .tuple(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 6 }))
      .chain(([states, hours]) => fc.array(hour(states), { minLength: hours, maxLength: hours }));
    fc.assert(
      fc.property(week, fc.integer({ min: 0, max: 12 }), (hours, cost) => {
        const worth = hours.map(([values]) => values);
        const may = hours.map(([, mayChange]) => mayChange);
        const course = bestCourse(worth, may, cost);
        expect(totalOf(course, worth, may, cost)).toBeCloseTo(bruteForce(worth, may, cost), 9);
      }),
      { seed: 20270504, numRuns: 300 },
    );
  });

  it('walks only where that pays and may be, and stays where it is level', () => {
    const calm = [5, 0];
    const wind = [0, 5];
    const always = Array.from({ length: 6 }, () => true);
    const week = [calm, calm, wind, wind, calm, calm];
    expect(bestCourse(week, always, 4)).toEqual([0, 0, 1, 1, 0, 0]);
    // Two walks bring 10: as much as they cost.
    expect(bestCourse(week, always, 5)).toEqual([0, 0, 0, 0, 0, 0]);
    // The gale begins while everybody sleeps: the change is made late.
    expect(bestCourse(week, [true, false, false, true, true, true], 2)).toEqual([0, 0, 0, 1, 0, 0]);
    expect(bestCourse([], [], 1)).toEqual([]);
  });
});
