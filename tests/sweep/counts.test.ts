import { expect, it } from 'vitest';
import { truthOf } from '../../src/score/truth.js';
import { SweepCounts } from '../../src/sweep/counts.js';

const truth = (visits: number) => {
  const all = Array.from({ length: visits }, (_, i) => ({ start: i, end: i, type: 'animal' as const }));
  return truthOf({ version: 1, visits: all }, visits);
};

it('more settings and visits than can be noted are refused, saying how many can', () => {
  expect(() => new SweepCounts(2_000_000, truth(300_000))).toThrow(
    /^controls: expected at most 28633 combinations of dial positions for a clip of 300000 visits, found 2000000; make/,
  );
  expect(new SweepCounts(28_633, truth(3)).at(0)).toMatchObject({ visits: 3, caught: 0 });
});
