import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Differences, differences, verdictOn, whyNotComparable } from '../../src/check/compare.js';
import { clip, triggers, visit } from './made.js';

const none: Differences = {
  lost: [],
  gained: [],
  newFalse: [],
  goneFalse: [],
  movedFalse: [],
  newOther: [],
  goneOther: [],
};

describe('differences', () => {
  it('names visits lost and gained, with their places and times', () => {
    const before = clip('a', [visit(10, true, 'wren'), visit(20, false), visit(30, true)]);
    const now = clip('a', [visit(10, false, 'wren'), visit(20, true), visit(30, true)]);
    expect(differences(before, now)).toEqual({
      ...none,
      lost: [{ visit: 0, name: 'wren', start: 10, end: 12 }],
      gained: [{ visit: 1, name: null, start: 20, end: 22 }],
    });
  });

  it('names false triggers that are new and that are gone', () => {
    const before = clip('a', [], triggers('false', 1, 50));
    const now = clip('a', [], triggers('false', 1, 70, 90));
    expect(differences(before, now)).toEqual({
      ...none,
      newFalse: [{ time: 70 }, { time: 90 }],
      goneFalse: [{ time: 50 }],
    });
  });

  it('takes a false trigger within a second of one that went for the same, moved', () => {
    const before = clip('a', [], triggers('false', 10, 20));
    const now = clip('a', [], triggers('false', 10.4, 21.2));
    expect(differences(before, now)).toEqual({
      ...none,
      movedFalse: [{ time: 10.4, was: 10 }],
      newFalse: [{ time: 21.2 }],
      goneFalse: [{ time: 20 }],
    });
  });

  it('never takes a trigger that stayed for one that moved', () => {
    const before = clip('a', [], triggers('false', 10));
    const now = clip('a', [], triggers('false', 9.5, 10));
    expect(differences(before, now)).toEqual({ ...none, newFalse: [{ time: 9.5 }] });
  });

  it('holds a trigger that is false now and was of a visit for new false triggers', () => {
    const before = clip('a', [visit(10, true)], triggers('true', 11));
    const now = clip('a', [visit(10, true)], triggers('false', 11));
    expect(differences(before, now)).toEqual({
      ...none,
      newFalse: [{ time: 11 }],
      goneOther: [{ time: 11, verdict: 'true' }],
    });
  });

  it('takes times a rounding apart for the same', () => {
    const before = clip('a', [], triggers('false', 0.1 + 0.2));
    expect(differences(before, clip('a', [], triggers('false', 0.3)))).toEqual(none);
  });

  it('is the same for times shifted by a constant', () => {
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 300 }), { maxLength: 30 });
    fc.assert(
      fc.property(times, times, fc.integer({ min: 1, max: 5000 }), (was, is, shift) => {
        const at = (fifths: number[], by: number) =>
          clip(
            'a',
            [],
            triggers('false', ...fifths.toSorted((a, b) => a - b).map((fifth) => by + fifth / 5)),
          );
        const plain = differences(at(was, 0), at(is, 0));
        const shifted = differences(at(was, shift), at(is, shift));
        const near = (list: { time: number }[], by: number) =>
          list.map(({ time }) => Math.round((time - by) * 5));
        for (const kind of ['newFalse', 'goneFalse', 'movedFalse'] as const) {
          expect(near(shifted[kind], shift)).toEqual(near(plain[kind], 0));
        }
      }),
      { seed: 6, numRuns: 100 },
    );
  });
});

describe('verdictOn', () => {
  const lost = [{ visit: 0, name: null, start: 1, end: 2 }];
  const one = [{ time: 1 }];
  const two = [{ time: 1 }, { time: 90 }];
  it.each<[string, string, Partial<Differences>]>([
    ['same', 'nothing differs', {}],
    ['worse', 'a visit is lost', { lost }],
    ['worse', 'a false trigger is new', { newFalse: one }],
    ['worse', 'a visit is lost and false triggers are as many', { lost, newFalse: one, goneFalse: one }],
    ['better', 'a visit is gained', { gained: lost }],
    ['better', 'there are fewer false triggers', { newFalse: one, goneFalse: two }],
    ['changed', 'a visit is lost and there are fewer false triggers', { lost, goneFalse: one }],
    ['changed', 'visits are lost and gained', { lost, gained: lost }],
    ['changed', 'false triggers are others, as many', { newFalse: one, goneFalse: one }],
    ['changed', 'a trigger moved', { movedFalse: [{ time: 1, was: 1.2 }] }],
    ['changed', 'another moment of a visit fired', { newOther: [{ time: 1, verdict: 'true' }] }],
  ])('is %s where %s', (verdict, _, changes) => {
    expect(verdictOn({ ...none, ...changes })).toBe(verdict);
  });
});

describe('whyNotComparable', () => {
  const before = clip('a', [visit(10, true)]);
  const other = 'f'.repeat(64);
  it('is null for a clip that is the same, whatever it gives and whatever is masked', () => {
    expect(whyNotComparable(before, { ...clip('a', [visit(10, false)]), mask: other })).toBeNull();
  });
  it.each([
    ['pictures', /pictures changed/],
    ['times', /times of its frames changed/],
    ['labels', /visits.* changed/],
  ])('says that the %s changed', (part, message) => {
    expect(whyNotComparable(before, { ...before, [part]: other })).toMatch(message);
  });
  it('finds accepted visits that are not those of the labels', () => {
    expect(whyNotComparable(before, clip('a', [visit(11, true)]))).toMatch(/changed by hand/);
  });
});
