import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { StretchIndex } from '../../src/score/stretch-index.js';
import { holds, touchesAny, union } from '../../src/score/stretches.js';
import { isIgnored, truthOf, visitsAt } from '../../src/score/truth.js';

/** Times on a coarse grid, so that ends meet; some off it by less and by more than times may differ. */
const time = fc
  .tuple(fc.nat({ max: 20 }), fc.constantFrom(0, 5e-10, -5e-10, 2e-9))
  .map(([whole, off]) => Math.max(0, whole + off));
const stretch = fc.tuple(time, time).map(([a, b]) => ({ start: Math.min(a, b), end: Math.max(a, b) }));
const stretches = fc.array(stretch, { maxLength: 12 });
const often = { seed: 1, numRuns: 3000 };

describe('an index of stretches', () => {
  it('finds what looking at each finds, in any order and overlapping', () => {
    fc.assert(
      fc.property(stretches, time, (all, t) => {
        const each = all.flatMap((one, i) => (holds(one, t) ? [i] : []));
        const index = new StretchIndex(all);
        expect(index.at(t)).toEqual(each);
        expect(index.any(t)).toBe(each.length > 0);
      }),
      often,
    );
  });
});

describe('stretches apart and in order', () => {
  it('touch another where one of those they were made of does', () => {
    fc.assert(
      fc.property(stretches, stretch, (all, one) => {
        const touching = all.some((other) => other.end >= one.start && other.start <= one.end);
        expect(touchesAny(union(all), one)).toBe(touching);
      }),
      often,
    );
  });
});

describe('the truth of a clip', () => {
  it('is asked of by a time as if each label were looked at', () => {
    const type = fc.constantFrom('animal' as const, 'human' as const);
    const visit = fc.tuple(stretch, type).map(([s, type]) => ({ ...s, type }));
    const labels = fc.record({
      version: fc.constant(1 as const),
      visits: fc.array(visit, { maxLength: 8 }),
      ignored: stretches,
      reviewed: stretches,
    });
    fc.assert(
      fc.property(labels, time, (given, t) => {
        const truth = truthOf(given, 15);
        expect(visitsAt(truth, t)).toEqual(truth.visits.flatMap((v, i) => (holds(v, t) ? [i] : [])));
        const others = given.visits.filter((v) => v.type !== 'animal');
        const aside = [...given.ignored, ...others].some((s) => holds(s, t));
        const unreviewed = t <= 15 && !given.reviewed.some((s) => holds(s, t));
        expect(isIgnored(truth, t)).toBe(aside || unreviewed);
      }),
      often,
    );
  });
});
