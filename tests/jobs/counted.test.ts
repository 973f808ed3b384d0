import { describe, expect, it } from 'vitest';
import { countedNotes } from '../../src/jobs/fit/counted.js';

const pairs = {
  given: 104,
  times: Array.from({ length: 52 }, (_, i) => 4 * i),
  burst: { photos: 2, interval: 1 },
};
const singles = { given: 104, times: Array.from({ length: 104 }, (_, i) => 4 * i), burst: null };
const described = (photos: number) => ({ name: 'garden camera', burst: { photos, interval: 1 } });
const seen = { what: 'photo' as const, base: null, said: undefined };

describe('how photos were counted is always said', () => {
  it('as bursts, or each as a trigger', () => {
    expect(countedNotes(pairs, seen)).toEqual([
      '104 photos, 2 a trigger, 1 s apart: 52 triggers, each at its first photo',
    ]);
    expect(countedNotes(singles, seen)).toEqual([
      expect.stringMatching(
        /^104 photos, each taken as a trigger of its own; where the camera takes several/,
      ),
    ]);
    expect(countedNotes(singles, { ...seen, what: 'fired time' })[0]).toMatch(/^104 fired times, each taken/);
  });

  it('with what the description says otherwise', () => {
    expect(countedNotes(pairs, { ...seen, base: described(1) })[1]).toMatch(
      /^garden camera is described as taking 1 photo a trigger \(its burst\), but these came 2 a trigger/,
    );
    expect(countedNotes(singles, { ...seen, base: described(3), said: 1 })[1]).toMatch(
      /^garden camera is described as taking 3 photos a trigger .* not 1 as you say/,
    );
    expect(countedNotes(pairs, { ...seen, base: described(2) })).toHaveLength(1);
  });
});
