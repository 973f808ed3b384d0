import { expect, it } from 'vitest';
import { massesOf, plausibility } from '../../src/fit/score/plausible.js';
import { risingBy } from '../../src/fit/search/axes.js';

const sum = (all: readonly number[]) => all.reduce((a, b) => a + b, 0);

it('values weigh the same in all, whatever the steps in which they are looked through', () => {
  const by = (level: number, area: number) =>
    massesOf({ levels: risingBy(level, 5, 100), areas: risingBy(area, 2, 1000) }, 19_200);
  const [fine, wide] = [by(1.02, 1.012), by(1.25, 1.5)];
  expect(sum(wide.levels) / sum(fine.levels)).toBeCloseTo(1, 1);
  expect(sum(wide.areas) / sum(fine.areas)).toBeCloseTo(1, 1);
});

it('what is usual is likelier than what hardly any camera does', () => {
  const look = { width: 160, height: 120, smooth: 1, whileBusy: 'continues' as const };
  const average = (seconds: number) => ({ ...look, reference: { kind: 'average' as const, seconds } });
  expect(plausibility(average(3))).toBeGreaterThan(4 * plausibility(average(33)));
  expect(plausibility(average(3))).toBeGreaterThan(plausibility({ ...average(3), whileBusy: 'frozen' }));
  const at = (area: number) => massesOf({ levels: [20], areas: [area] }, 19_200).areas[0]! * area;
  expect(at(40)).toBeGreaterThan(4 * at(3000));
});
