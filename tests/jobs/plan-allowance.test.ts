import { describe, expect, it } from 'vitest';
import { allowanceOver } from '../../src/jobs/plan/allowance.js';
import { kindOf } from '../../src/plan/kind.js';
import { swept, visits } from '../tune/swept.js';

const calm = kindOf(0, 0, 'bright');
const storm = kindOf(9, 0, 'bright');
const night = kindOf(0, 0, 'too dark');
const goal = { kind: 'allowance', falsePerHour: 6, photos: 10, photosPerTrigger: 1 } as const;
/** An hour in which each setting catches 4 visits and fires falsely so often. */
const within = (kind: typeof calm, falseTriggers: number) => ({
  kind,
  source: 'recorded' as const,
  clips: ['a'],
  parts: [{ whole: swept(visits(5), [4, 4, 4, 4, 4], Array(5).fill(falseTriggers)), blocks: [] }],
});
const over = (kinds: (typeof calm)[], ...evidence: ReturnType<typeof within>[]) =>
  allowanceOver(
    kinds,
    kinds.map(() => 0),
    evidence,
    goal,
  );

describe('whether the hours of a plan keep an allowance', () => {
  it('is so where the footage of every kind of them does', () => {
    expect(over([calm, night], within(calm, 5))).toEqual({
      allowance: { falsePerHour: 6, kept: true },
      notes: [],
    });
  });

  it('is not so where that of one kind does not', () => {
    const { allowance, notes } = over([calm, storm], within(calm, 5), within(storm, 40));
    expect(allowance).toMatchObject({ kept: false });
    expect(notes).toEqual([expect.stringContaining('40 an hour')]);
  });

  it('cannot be told where nothing is known of some hours, and they are named', () => {
    const { allowance, notes } = over([calm, storm], within(calm, 5));
    expect(allowance).toMatchObject({ kept: null });
    expect(notes).toEqual([expect.stringMatching(/cannot be told of wind, Beaufort 8 or more: .* neither/)]);
  });
});
