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

it('half a trigger more is foretold than was counted, however much they scatter', () => {
  expect(predictFalse([unit(4), unit(6)], 10).value).toBeCloseTo(10.5, 9);
  expect(predictFalse([unit(0), unit(30)], 30).value).toBeCloseTo(30.5, 9);
});

it('none seen foretells half a trigger, within an interval that leaves room for some', () => {
  const { value, low, high } = predictFalse([unit(0), unit(0)], 0);
  expect([value, low]).toEqual([0.5, 0]);
  expect(high).toBeGreaterThan(2);
});

it('what is foretold lies within its interval', () => {
  for (const counts of [
    [0, 0],
    [0, 30],
    [1, 0],
    [9, 11],
  ]) {
    const { value, low, high } = predictFalse(counts.map(unit), 0);
    expect(low).toBeLessThanOrEqual(value);
    expect(high).toBeGreaterThanOrEqual(value);
  }
});
