import { expect, it } from 'vitest';
import { Dice } from '../../src/weather/dice.js';

it('counts no more at once than can be drawn, however many there would be', () => {
  const dice = new Dice('1', 'test');
  expect(dice.count(400_000)).toBe(400_000);
  expect(dice.count(1e12)).toBe(500_000);
  expect(dice.count(Number.POSITIVE_INFINITY)).toBe(500_000);
});
