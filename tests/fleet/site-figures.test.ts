import { describe, expect, it } from 'vitest';
import { changeOf } from '../../src/fleet/site-figures.js';

const before = { visits: 10, missed: 2, falseTriggers: 6, watchedHours: 3 };

describe('what changed at a site since the time before', () => {
  it.each([
    ['the same', before, 'same'],
    ['one more missed', { ...before, missed: 3 }, 'worse'],
    ['one fewer missed', { ...before, missed: 1 }, 'better'],
    ['as many missed, more false triggers', { ...before, falseTriggers: 7 }, 'worse'],
    ['fewer missed, more false triggers', { ...before, missed: 1, falseTriggers: 7 }, 'changed'],
    ['twice the footage, alike', { visits: 20, missed: 4, falseTriggers: 12, watchedHours: 6 }, 'same'],
    ['more footage, of which as many are missed', { ...before, visits: 20 }, 'better'],
  ] as const)('%s', (_, now, change) => {
    expect(changeOf(now, before)).toBe(change);
  });

  it('is told by counts where nothing says of how many', () => {
    const diagnosis = { visits: null, missed: 2, falseTriggers: 6, watchedHours: null };
    expect(changeOf({ ...diagnosis, falseTriggers: 5 }, diagnosis)).toBe('better');
    expect(changeOf({ ...diagnosis, missed: 3 }, diagnosis)).toBe('worse');
  });

  it('is new where there is no time before', () => {
    expect(changeOf(before, null)).toBe('new');
  });
});
