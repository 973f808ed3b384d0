import { expect, it } from 'vitest';
import { noCounts, scoreOf } from '../../src/score/score.js';
import { meaningText } from '../../src/words/meaning.js';
import { balanceText, hourText, isTold, scoreText, timesText } from '../../src/words/score-wording.js';

/** The example of the contract's RATE: two false triggers in 0.05 watched hours are 40 (7.1 to 125.9) an hour. */
const counts = { ...noCounts, visits: 9, caught: 8, falseTriggers: 2, watchedSeconds: 180 };

it('a score is told in words, with what it rests on', () => {
  expect(scoreText(scoreOf(counts), { cooldown: 0 }, 1)).toBe(
    'caught 8 of 9 visits (62–97 %); false triggers an hour 40 (7.1–126)',
  );
});

it('a camera that takes three photos at a time is told in triggers as any, and what they come to in photos', () => {
  expect(scoreText(scoreOf(counts), { cooldown: 0 }, 3)).toContain(
    'false triggers an hour 40 (7.1–126), 120 photos',
  );
});

it('the interval ends at what the cooldown leaves room for', () => {
  expect(scoreText(scoreOf(counts), { cooldown: 60 }, 1)).toContain('an hour 40 (7.1–60)');
});

it('where labels say nothing yet, nothing is told', () => {
  expect([noCounts, counts, { ...noCounts, watchedSeconds: 9 }].map((of) => isTold(scoreOf(of)))).toEqual([
    false,
    true,
    true,
  ]);
});

it('the interval of false triggers is that by bouts, as replay and tune tell it', () => {
  const bunched = { ...counts, falseTriggers: 12, falseBouts: 2, falseSquares: 72 };
  const score = scoreOf(bunched);
  const { low, high } = score.falsePerHour!.bouts!;
  expect(high).toBeGreaterThan(1.2 * score.falsePerHour!.high);
  expect(scoreText(score, { cooldown: 0 }, 1)).toContain(
    `false triggers an hour 240 (${Math.round(low)}–${Math.round(high)})`,
  );
});

it('where there is nothing to count, that is said', () => {
  expect(scoreText(scoreOf(noCounts), { cooldown: 0 }, 1)).toBe(
    'no visits to catch; no time without visits to tell false triggers from',
  );
});

it.each([
  [{ gained: 2, lost: 1, nothing: -6 }, '2 visits gained, 1 lost; 6 false triggers (12 photos) fewer'],
  [{ gained: 0, lost: 0, nothing: 1 }, 'the same visits; 1 false trigger (2 photos) more'],
  [{ gained: 1, lost: 0, nothing: 0 }, '1 visit gained, 0 lost; as many false triggers'],
])('two groups of settings are held against each other: %o', (balance, text) => {
  expect(balanceText(balance, 2)).toBe(text);
});

it.each([
  ['threshold', 32, 'a pixel must change by 32 of 255'],
  ['minimumArea', 1, '1 pixel must change'],
  ['persistence', 1, 'one frame is enough'],
  ['persistence', 3, 'in 3 frames in a row'],
] as const)('%s %i says: %s', (sets, value, text) => {
  expect(meaningText(sets, value)).toBe(text);
});

it('triggers are told as times, with what they come to in photos where that is another number', () => {
  expect(timesText(6, 2)).toBe('6 times (12 photos)');
  expect(timesText(1, 1)).toBe('1 time');
});

it('an hour is said to be one with nothing in view', () => {
  expect(hourText(2)).toBe(
    'An hour here is an hour with nothing in view: while animals are there the time does not count. Each trigger takes 2 photos.',
  );
  expect(hourText(1)).not.toContain('photos');
});
