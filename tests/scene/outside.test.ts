import fc from 'fast-check';
import { expect, it } from 'vitest';
import { outside } from '../../src/scene/truth.js';

const time = fc.nat({ max: 20 });
const stretches = fc.array(
  fc.tuple(time, time).map(([a, b]) => ({ start: Math.min(a, b), end: Math.max(a, b) })),
  { maxLength: 8 },
);

it('what is left of causes is what cutting visit after visit out of them leaves', () => {
  fc.assert(
    fc.property(stretches, stretches, (found, visits) => {
      const sorted = visits.toSorted((a, b) => a.start - b.start || a.end - b.end);
      const cut = found.flatMap(({ start, end }) => {
        let pieces = [{ start, end: Math.min(15, end) }];
        for (const v of sorted) {
          pieces = pieces.flatMap((p) =>
            v.end <= p.start || v.start >= p.end
              ? [p]
              : [
                  { start: p.start, end: v.start },
                  { start: v.end, end: p.end },
                ],
          );
        }
        return pieces.filter((p) => p.end > p.start);
      });
      const causes = found.map((one) => ({ ...one, cause: 'wind' as const }));
      const left = outside(causes, sorted, 15).map(({ start, end }) => ({ start, end }));
      expect(left).toEqual(cut.toSorted((a, b) => a.start - b.start || a.end - b.end));
    }),
    { seed: 1, numRuns: 2000 },
  );
});
