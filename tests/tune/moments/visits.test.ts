import { describe, expect, it } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import { knower } from '../../../src/tune/moments/known.js';
import { asReviewed, asVisit, joinsIn, withFound, withoutVisits } from '../../../src/tune/moments/visits.js';

const empty = { version: 1 as const, visits: [] };
const fresh = { ...empty, reviewed: [] };

describe('answers written as labels', () => {
  it('of a fresh clip leave only what was looked at as reviewed', () => {
    const moment = { start: 10, end: 12 };
    const looked = asReviewed(moment, defaultCamera, 60);
    // Photos of a trigger at its end come 0.5 and 1.5 s later.
    expect(looked).toEqual({ start: 9.5, end: 13.5 });
    const labels = withFound(fresh, [looked], [], 'animal');
    expect(labels).toEqual({ version: 1, visits: [], reviewed: [looked] });
    const tells = knower(labels);
    expect(tells(moment)).toBe('nothing');
    expect(tells({ start: 30, end: 31 })).toBeNull();
  });

  it('do not take back that all of it was looked through', () => {
    const all = { ...empty, visits: [{ start: 40, end: 50, type: 'animal' as const }] };
    expect(withFound(all, [{ start: 0, end: 2 }], [], 'animal')).toEqual(all);
    expect(knower(all)({ start: 1, end: 2 })).toBe('nothing');
  });

  it('make one visit of moments within five seconds, and go on with one that has a name', () => {
    const before = {
      ...empty,
      visits: [{ start: 10, end: 12, type: 'animal' as const, name: 'wren' }],
    };
    const found = [
      { start: 16, end: 18 },
      { start: 30, end: 31 },
      { start: 34, end: 36 },
    ];
    expect(withFound(before, [], found, 'animal').visits).toEqual([
      { start: 10, end: 18, type: 'animal', name: 'wren' },
      { start: 30, end: 36, type: 'animal' },
    ]);
    expect(withFound(before, [], [{ start: 13, end: 14 }], 'human').visits).toHaveLength(2);
  });

  it('do not let a visit go on through a moment that is not answered alike, and join what it parted once it is', () => {
    const [first, between, last] = [
      { start: 10, end: 12 },
      { start: 13, end: 14 },
      { start: 15, end: 17 },
    ] as const;
    const apart = withFound(empty, [], [first, last], 'animal', { parted: [between] });
    expect(apart.visits).toEqual([
      { ...first, type: 'animal' },
      { ...last, type: 'animal' },
    ]);
    const whole = withFound(apart, [], [between], 'animal');
    expect(whole.visits).toEqual([{ start: 10, end: 17, type: 'animal' }]);
    expect(joinsIn(apart, [between], whole)).toEqual([{ start: 10, end: 17, of: 3 }]);
  });

  it('leave two visits with names of their own two, and tell of no join where one is found again', () => {
    const named = (start: number, name: string) => ({ start, end: start + 2, type: 'animal' as const, name });
    const before = { ...empty, visits: [named(10, 'wren'), named(16, 'blackbird')] };
    const found = { start: 13, end: 14 };
    const after = withFound(before, [], [found], 'animal');
    expect(after.visits).toEqual([{ ...named(10, 'wren'), end: 14 }, named(16, 'blackbird')]);
    const again = { start: 10, end: 12 };
    expect(joinsIn(before, [again], withFound(before, [], [again], 'animal'))).toEqual([]);
  });

  it('take a visit back only where it lies within what is looked at anew', () => {
    const visit = { ...asVisit({ start: 20, end: 22 }, 60), type: 'animal' as const };
    const labels = { ...empty, visits: [visit, { start: 30, end: 50, type: 'animal' as const }] };
    const again = [asVisit({ start: 20, end: 22 }, 60), { start: 35, end: 40 }];
    expect(withoutVisits(labels, again).visits).toEqual([{ start: 30, end: 50, type: 'animal' }]);
  });
});

describe('what labels say of a stretch', () => {
  it('is nothing known where nothing was looked through, and nothing there where all was', () => {
    expect(knower(fresh)({ start: 1, end: 2 })).toBeNull();
    expect(knower(empty)({ start: 1, end: 2 })).toBe('nothing');
  });

  it('is a person, or that it was set aside, before it is nothing', () => {
    const tells = knower({
      ...empty,
      visits: [{ start: 5, end: 6, type: 'human' }],
      ignored: [{ start: 10, end: 20 }],
    });
    expect(tells({ start: 6, end: 7 })).toBe('person');
    expect(tells({ start: 12, end: 13 })).toBe('set aside');
    expect(tells({ start: 19, end: 23 })).toBe('nothing');
  });
});
