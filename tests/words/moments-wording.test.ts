import { expect, it } from 'vitest';
import { missedWording, quietWording, verdictWording } from '../../src/words/moments-wording.js';

const looked = (all: number, drawn: number, foundInDrawn = 0, others = 0, foundInOthers = 0) => {
  return { all, seen: drawn + others, found: foundInDrawn + foundInOthers, drawn, foundInDrawn };
};

it('says what a sample of quiet stretches lets one conclude, of stretches and not of visits', () => {
  // 86/140 * 85/139 * ... * 81/135 = 5.01 %, with one fewer 4.7 %: 140 - 86 = 54 of 140.
  const text = quietWording(looked(140, 6));
  expect(text).toContain('6 of 140 quiet stretches, and an animal was in none of them');
  expect(text).toMatch(/at most 39 % of the stretches/);
  expect(text).toMatch(/up to 54 of the 134 that nobody looked through/);
  expect(text).toMatch(/counts stretches, not visits/);
});

it('leaves what was not looked through as drawn out of the interval', () => {
  // Of the 54 that may hold one, 2 are found among others; the 34 others are looked through.
  const text = quietWording(looked(140, 6, 0, 34, 2));
  expect(text).toMatch(/at most 39 %/);
  expect(text).toMatch(/up to 52 of the 100/);
  expect(text).toMatch(/34 other stretches you saw for other reasons are no sample/);
  expect(quietWording(looked(40, 0, 0, 20))).toMatch(/none as drawn here, so nothing can be said/);
  expect(missedWording(9, looked(40, 0, 0, 20))).toBeNull();
});

it('says nothing of visits that evidence misses before a stretch was seen, and all after the last', () => {
  expect(quietWording(looked(9, 0))).toMatch(/nothing can be said yet/);
  expect(quietWording(looked(9, 9, 1))).toMatch(/no visit is left/);
});

it('says how small a part of all visits those found may be', () => {
  // Of 10, 5 seen without one: up to 3 may hold one.
  expect(missedWording(9, looked(10, 5))).toMatch(/would be 75 %/);
  expect(missedWording(0, looked(10, 5))).toBeNull();
});

const none = looked(140, 0);
const some = looked(140, 6);
const every = looked(9, 9, 1);

it('tells certain from likely, and what it is enough for', () => {
  expect(verdictWording('settled', 0, 3, none).word).toBe('Enough labelled to choose by');
  expect(verdictWording('enough', 0.4, 3, none).word).toMatch(/to choose by, most likely/);
  expect(verdictWording('go on', 13.6, 3, none).why).toMatch(/about 14 photos of nothing/);
  expect(verdictWording('settled', 0, 0, none).word).toMatch(/All moments/);
});

it('says by quiet stretches whether it is enough for the share of visits caught too', () => {
  const why = (of: typeof none) => verdictWording('enough', 0.4, 3, of).why;
  expect(why(none)).toContain('it is not enough: no quiet stretch was looked through as drawn yet');
  // As above: 54 of 140.
  expect(why(some)).toContain(
    'may still flatter: up to 54 quiet stretches may hold visits that no moment shows',
  );
  expect(why(every)).toContain('so that the share of visits caught holds as well');
});
