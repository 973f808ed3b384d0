import { expect, it } from 'vitest';
import { predictFalse } from '../../src/tune/predict.js';

/** Half an hour watched, with false triggers that stand alone. */
const unit = (falseTriggers: number) => ({
  visits: 5,
  caught: 4,
  falseTriggers,
  falseSquares: falseTriggers,
  watchedHours: 0.5,
});

it('false triggers are foretold as they were counted, and no more are added on', () => {
  expect(predictFalse([unit(4), unit(6)], 10, false).value).toBeCloseTo(10, 9);
});

it('none seen foretells none, within an interval that leaves room for some', () => {
  const { value, low, high } = predictFalse([unit(0), unit(0)], 0, false);
  expect([value, low]).toEqual([0, 0]);
  expect(high).toBeGreaterThan(2);
});

it('a setting that was not chosen anew is foretold half a trigger more than it fired where it was chosen', () => {
  expect(predictFalse([unit(0), unit(2)], 2, true).value).toBeCloseTo(2.5, 9);
});

it('what is foretold lies within its interval', () => {
  for (const counts of [
    [0, 0],
    [0, 30],
    [1, 0],
    [9, 11],
  ]) {
    const { value, low, high } = predictFalse(counts.map(unit), 0, false);
    expect(low).toBeLessThanOrEqual(value);
    expect(high).toBeGreaterThanOrEqual(value);
  }
});
