import { describe, expect, it } from 'vitest';
import { Reckoning } from '../../src/fit/search/reckoning.js';
import { triedText } from '../../src/fit/search/trying.js';

const [large, small] = [
  { width: 320, height: 240 },
  { width: 160, height: 120 },
];

describe('how far a search has come', () => {
  const reached: { share: number; at: string }[] = [];
  const onReached = (done: number, total: number, at: string) => reached.push({ share: done / total, at });
  const reckoning = new Reckoning(100, small, [large, small], onReached);
  const tryThem = (sizes: (typeof large)[]) => {
    reckoning.take(sizes);
    for (const size of sizes) {
      reckoning.trying('trying one');
      reckoning.compared(100, size, 1);
      reckoning.held();
    }
  };

  it('never falls back, however much there turns out to be, nor stands still, and comes to nearly all of it', () => {
    reckoning.begin('offset');
    tryThem(Array(11).fill(small));
    const before = reached.at(-1)!.share;
    // Another rate: all begins anew.
    reckoning.begin('offset');
    tryThem(Array(11).fill(small));
    expect(reached.at(-1)!.share).toBeGreaterThan(before);
    reckoning.begin('while busy');
    tryThem(Array(70).fill(small));
    reckoning.begin('sizes');
    tryThem(Array(40).fill(large));
    reckoning.begin('choosing');
    tryThem(Array(12).fill(small));
    const shares = reached.map(({ share }) => share);
    expect(shares[0]).toBeLessThan(0.05);
    for (const [i, share] of shares.slice(1).entries()) expect(share).toBeGreaterThanOrEqual(shares[i]!);
    expect(shares.at(-1)).toBeGreaterThan(0.95);
    expect(shares.at(-1)).toBeLessThanOrEqual(1);
  });

  it('is told with what is tried now, and how the best so far fires, at other times too', () => {
    expect(reached[0]!.at).toBe('trying one');
    const news = () => {
      reckoning.trying('trying another');
      return reached.at(-1)!.at;
    };
    // Fires all the time, and so at each of the times.
    reckoning.found({ f1: 0.2, matched: 52, missing: 0, extra: 416 });
    expect(news()).toBe('best so far: fires at 52 of 52 times and at 416 others, trying another');
    reckoning.found({ f1: 0.8, matched: 41, missing: 11, extra: 9 });
    // At another rate, so far.
    reckoning.found({ f1: 0.5, matched: 52, missing: 0, extra: 104 });
    expect(news()).toBe('best so far: fires at 41 of 52 times and at 9 others, trying another');
    reckoning.found({ f1: 1, matched: 52, missing: 0, extra: 0 });
    expect(news()).toBe('best so far: fires at 52 of 52 times, trying another');
  });
});

it('names in plain words what is tried', () => {
  const look = {
    ...small,
    smooth: 1,
    reference: { kind: 'previous', lag: 1 },
    whileBusy: 'continues',
  } as const;
  const average = (seconds: number) => ({ ...look, reference: { kind: 'average', seconds } as const });
  expect(triedText([look])).toBe('the frame before at 160 x 120');
  expect(triedText([average(2), average(1.4), look])).toBe(
    'the frame before and averages over 1.4 to 2 s at 160 x 120',
  );
  expect(triedText([{ ...average(2), whileBusy: 'frozen' }])).toBe(
    'an average over 2 s, still while busy, at 160 x 120',
  );
});
