import { expect, it } from 'vitest';
import { missedWording, quietWording, verdictWording } from '../../src/words/moments-wording.js';

it('says what a sample of quiet stretches lets one conclude', () => {
  // 86/140 * 85/139 * ... * 81/135 = 5.01 %, with one fewer 4.7 %: 140 - 86 = 54 of 140.
  const text = quietWording({ all: 140, seen: 6, found: 0 });
  expect(text).toContain('6 of 140 quiet stretches and found an animal in none');
  expect(text).toMatch(/at most 39 % of them/);
  expect(text).toMatch(/among the 134 that nobody looked through/);
});

it('says nothing of visits that evidence misses before a stretch was seen, and all after the last', () => {
  expect(quietWording({ all: 9, seen: 0, found: 0 })).toMatch(/nothing can be said yet/);
  expect(quietWording({ all: 9, seen: 9, found: 1 })).toMatch(/no visit is left/);
});

it('says how small a part of all visits those found may be', () => {
  // Of 10, 5 seen without one: up to 3 may hold one.
  expect(missedWording(9, { all: 10, seen: 5, found: 0 })).toMatch(/as few as 75 %/);
  expect(missedWording(0, { all: 10, seen: 5, found: 0 })).toBeNull();
});

const none = { all: 140, seen: 0, found: 0 };
const some = { all: 140, seen: 6, found: 0 };
const every = { all: 9, seen: 9, found: 1 };

it('tells certain from likely, and what it is enough for', () => {
  expect(verdictWording('settled', 0, 3, none).word).toBe('Enough labelled to choose by');
  expect(verdictWording('enough', 0.4, 3, none).word).toMatch(/to choose by, most likely/);
  expect(verdictWording('go on', 13.6, 3, none).why).toMatch(/about 14 photos of nothing/);
  expect(verdictWording('settled', 0, 0, none).word).toMatch(/All moments/);
});

it('says by quiet stretches whether it is enough for the share of visits caught too', () => {
  const why = (looked: typeof none) => verdictWording('enough', 0.4, 3, looked).why;
  expect(why(none)).toContain('it is not enough: no quiet stretch was looked through yet');
  // As above: 54 of 140.
  expect(why(some)).toContain('may still flatter: up to 54 visits that no moment shows may be left');
  expect(why(every)).toContain('so that the share of visits caught holds as well');
});
