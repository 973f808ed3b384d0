import { describe, expect, test } from 'vitest';
import { noCounts, scoreOf } from '../../src/score/score.js';
import { byLuckText, luckOfSite } from '../../src/words/luck.js';

const scored = (caught: number, byLuck: number, boxed = 16) =>
  scoreOf({ ...noCounts, visits: 16, caught, byLuck, boxed, watchedSeconds: 3600 });
const site = (recommended: ReturnType<typeof scored>, now: ReturnType<typeof scored>, assumed = false) =>
  luckOfSite({ recommended: { score: recommended }, now: { score: now, assumed } } as Parameters<
    typeof luckOfSite
  >[0]);

describe('visits caught by luck, in words', () => {
  test('stand after the count that they are part of', () => {
    expect(`12 of 16 visits${byLuckText(scored(12, 3))}`).toBe(
      '12 of 16 visits, 3 of them by luck: something else fired while the animal was there',
    );
  });

  test('are passed over where there are none, or nothing tells', () => {
    expect(byLuckText(scored(12, 0))).toBe('');
    expect(byLuckText(scored(12, 0, 0))).toBe('');
    expect(site(scored(12, 0), scored(7, 0))).toBe('');
  });

  test('are told of what is recommended and of what is used now', () => {
    expect(site(scored(12, 3), scored(7, 2))).toBe(
      'Of the 12 visits that these settings catch, 3, and of the 7 visits that what you use now catches, 2 by luck: something else fired while the animal was there. Nothing was chosen for visits caught so.',
    );
    expect(site(scored(12, 0), scored(7, 2), true)).toMatch(
      /^Of the 7 visits that the dials at their middle catch, 2 by luck: /,
    );
  });
});
