import { describe, expect, it } from 'vitest';
import type { EquallyGood } from '../../src/fit/choice/as-good.js';
import { afterPause, isToldApart, whatToRecord } from '../../src/fit/record.js';

describe('the times that came after a pause, not as soon as the camera could fire again', () => {
  // A cooldown of 5 s at five frames a second: the fourth comes a frame late, the fifth after a pause.
  const times = [0, 5, 10, 15.2, 21, 40];

  it.each([
    { slack: 0.5, count: 3 },
    { slack: 0.1, count: 4 },
    { slack: 30, count: 1 },
  ])('are $count with a slack of $slack s', ({ slack, count }) => {
    expect(afterPause(times, 5, slack)).toBe(count);
  });

  it('are none where there are none', () => {
    expect(afterPause([], 5, 0.5)).toBe(0);
  });
});

const one: EquallyGood = {
  look: {
    width: 160,
    height: 120,
    smooth: 1,
    reference: { kind: 'previous', lag: 2 },
    whileBusy: 'continues',
  },
  area: 'region',
  threshold: { from: 20, to: 22 },
  minimumArea: { from: 30, to: 33 },
  persistence: { from: 1, to: 1 },
  cooldown: { from: 4, to: 5 },
  atLeast: false,
  mostChanged: null,
  f1: 1,
};
const average = { kind: 'average', seconds: 2 } as const;

describe('which recording would tell apart what does as well', () => {
  const enough = { fired: 40, paused: 30 };

  it('none where nothing else does', () => {
    expect(whatToRecord({ equallyGood: [one], ...enough })).toBeNull();
  });

  it.each<[string, Partial<EquallyGood>, RegExp]>([
    ['kinds of reference', { look: { ...one.look, reference: average } }, /comes, stays still .* and goes/],
    ['lags', { look: { ...one.look, reference: { kind: 'previous', lag: 5 } } }, /moves very slowly/],
    [
      'what it does while busy',
      { look: { ...one.look, whileBusy: 'frozen' } },
      /put down just when it has fired/,
    ],
    ['sizes', { look: { ...one.look, width: 320, height: 240 } }, /Small things with sharp edges/],
    ['smoothing', { look: { ...one.look, smooth: 0 } }, /Small things with sharp edges/],
    ['areas', { area: 'changed' }, /Several small things moving at once/],
    ['thresholds', { threshold: { from: 10, to: 22 } }, /Things of several sizes/],
    ['minimum areas', { minimumArea: { from: 30, to: 90 } }, /Things of several sizes/],
    ['ranges of which nobody knows where they end', { atLeast: true }, /Things of several sizes/],
    ['persistence', { persistence: { from: 2, to: 2 } }, /dart through in one, two and three frames/],
    ['cooldowns', { cooldown: { from: 0, to: 5 } }, /moves on and on for some minutes/],
  ])('%s: one sentence', (_, other, sentence) => {
    const told = whatToRecord({ equallyGood: [one, { ...one, ...other }], ...enough });
    expect(told).toMatch(sentence);
    expect(told!.match(/\./g)).toHaveLength(1);
  });

  it('a longer one where it fired a few times, a quieter one where it hardly paused', () => {
    expect(whatToRecord({ equallyGood: [one], fired: 6, paused: 6 })).toMatch(/^Record longer: .* 30 times/);
    expect(whatToRecord({ equallyGood: [one], fired: 40, paused: 6 })).toMatch(/^Record when less stirs/);
  });
});

describe('one description is told apart', () => {
  it('where hardly more than one value of each does', () => {
    expect(isToldApart([one])).toBe(true);
    // A step of the smallest areas is more than a few per cent, and still the smallest there is.
    expect(isToldApart([{ ...one, minimumArea: { from: 3, to: 4 } }])).toBe(true);
  });

  it.each<[string, EquallyGood[]]>([
    ['where nothing was found', []],
    ['where another does as well', [one, { ...one, area: 'changed' }]],
    ['where its threshold is told roughly', [{ ...one, threshold: { from: 20, to: 24 } }]],
    ['where its minimum area is told roughly', [{ ...one, minimumArea: { from: 33, to: 52 } }]],
    ['where nobody looked how far its ranges reach', [{ ...one, atLeast: true }]],
    ['where its cooldown is told roughly', [{ ...one, cooldown: { from: 0, to: 5 } }]],
  ])('not %s', (_, all) => {
    expect(isToldApart(all)).toBe(false);
  });
});
