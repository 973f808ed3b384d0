import { expect, it } from 'vitest';
import { pairVisits } from '../../src/tune/paired-visits.js';

const visit = (start: number) => ({ clip: 'clips/alder', start, end: start + 5, name: null });
const pair = (start: number, before: boolean, after: boolean) => ({ visit: visit(start), before, after });

it('tells which visits only one of the two catches, and which of the two it is', () => {
  const pairs = [pair(10, true, true), pair(20, false, true), pair(30, true, false), pair(40, false, false)];
  const { gained, lost } = pairVisits([...pairs, pair(50, false, true)]);
  expect(gained.map(({ visit }) => visit.start)).toEqual([20, 50]);
  expect(lost.map(({ visit }) => visit.start)).toEqual([30]);
});

it('counts what is caught after as what is added to recall, and never what both catch or neither does', () => {
  const more = pairVisits([
    pair(10, false, true),
    pair(20, true, true),
    pair(30, false, false),
    pair(40, false, true),
  ]);
  expect(more.recall?.value).toBe(0.5);
  const fewer = pairVisits([
    pair(10, true, false),
    pair(20, true, true),
    pair(30, true, false),
    pair(40, false, false),
  ]);
  expect(fewer.recall?.value).toBe(-0.5);
});

it('keeps whatever else is known of a visit, and adds nothing to recall where there are no visits', () => {
  expect(pairVisits([{ ...pair(10, false, true), byLuck: true }]).gained[0]?.byLuck).toBe(true);
  expect(pairVisits([])).toEqual({ gained: [], lost: [], recall: null });
});
