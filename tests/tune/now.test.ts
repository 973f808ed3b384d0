import { describe, expect, it } from 'vitest';
import type { Judged } from '../../src/score/replayed.js';
import { noCounts } from '../../src/score/score.js';
import { againstNow } from '../../src/tune/now.js';

/** Three visits: of each whether it is caught, and whether by luck. */
function judged(visits: readonly ('' | 'caught' | 'by luck')[], boxed = visits.length): Judged {
  return {
    triggers: [],
    visits: visits.map((how, i) => ({
      start: 10 * i,
      end: 10 * i + 5,
      caught: how !== '',
      ...(boxed > 0 && how !== '' && { byLuck: how === 'by luck' }),
    })),
    counts: { ...noCounts, visits: visits.length, boxed, watchedSeconds: 3600 },
  };
}

describe('visits that only one of two groups of settings catches', () => {
  it('are told apart by whether luck caught them, whichever group it was', () => {
    const { against } = againstNow([
      {
        clip: 'a',
        now: judged(['', '', '', 'by luck', 'by luck']),
        recommended: judged(['caught', 'by luck', 'by luck', '', 'by luck']),
      },
    ]);
    expect([against.gained.length, against.lost.length]).toEqual([3, 1]);
    expect(against.byLuck).toEqual({ gained: 2, lost: 1 });
  });

  it('are not said to be due to anything where no box tells', () => {
    const { against } = againstNow([
      { clip: 'a', now: judged(['', ''], 0), recommended: judged(['caught', ''], 0) },
    ]);
    expect(against.gained).toHaveLength(1);
    expect(against.byLuck).toBeNull();
  });
});
