import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { hoursOut } from '../../../src/outing/evening/hours-out.js';
import { hoursToTell } from '../../../src/outing/evening/hours-to-tell.js';
import { meansPromised } from '../../../src/outing/evening/promise.js';
import {
  type Came,
  isTooWide,
  nothingRate,
  tailsOf,
  type Verdict,
  verdictOf,
  verdictWith,
} from '../../../src/outing/evening/verdict.js';

const HOUR = 3600;
const RUNS = 1500;
/** Three standard deviations of a share of 0.05 in so many runs. */
const BY_CHANCE = 3 * Math.sqrt((0.05 * 0.95) / RUNS);

/**
 * A rate that a promise allows for, drawn: on a scale of square roots half a normal distribution below the value and half of one
 * above it, with 5 % beyond either end (the normal one by Box and Muller's transform, its 95 % point from any table).
 */
function rateFrom(
  random: () => number,
  { value, low, high }: { value: number; low: number; high: number },
): number {
  const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const end = Math.sqrt(normal > 0 ? high : low);
  const root = Math.sqrt(value) + (Math.abs(normal) * (end - Math.sqrt(value))) / 1.644854;
  return Math.max(0, root) ** 2;
}

/** Another that allows for the same ends: a twentieth of all below low and above high each, the others even between. */
function evenRateFrom(
  random: () => number,
  { value, low, high }: { value: number; low: number; high: number },
): number {
  const at = random();
  if (at < 0.05) return low;
  if (at > 0.95) return high;
  return at < 0.5 ? low + ((at - 0.05) / 0.45) * (value - low) : value + ((at - 0.5) / 0.45) * (high - value);
}

/** A Poisson process, by its gaps; with `each` a bunch of up to so many photos, 3 s apart, stands for each event. */
function process(random: () => number, perHour: number, hours: number, each = 1): number[] {
  const times: number[] = [];
  for (let at = 0; ; ) {
    at -= (Math.log(1 - random()) * HOUR) / perHour;
    if (at >= hours * HOUR) return times.sort((a, b) => a - b);
    const size = 1 + Math.floor(random() * each);
    for (let k = 0; k < size; k++) times.push(at + 3 * k);
  }
}

const spaced = (count: number, apart = 200) => Array.from({ length: count }, (_, i) => i * apart);

function shares(told: (random: () => number) => Verdict): (verdict: Verdict) => number {
  const random = seedrandom('evening');
  const verdicts = Array.from({ length: RUNS }, () => told(random));
  return (verdict) => verdicts.filter((one) => one === verdict).length / RUNS;
}

describe('a promise', () => {
  const between = (value: number, low: number, high: number) => ({ value, low, high });
  it.each([
    ['of all that a camera could take', between(607, 65, 1617), true],
    ['that reaches from none to many', between(16, 0, 600), true],
    ['of a count of ten and a half hour', between(20, 11, 34), false],
    ['of next to none', between(1, 0, 4), false],
    ['that reaches far down, but not up', between(100, 2, 150), false],
  ])('%s is too wide or not', (_, promised, isWide) => expect(isTooWide(promised)).toBe(isWide));
});

describe('a rate of photos of nothing', () => {
  // Half of the 5 % point of chi-squared with 20 degrees of freedom, 10.851, and of the 95 % point with 22, 33.924, as in
  // any printed table of it (Garwood 1936 for what they are to a count of 10).
  it('has the exact Poisson interval', () => {
    const rate = nothingRate(spaced(10), 1)!;
    expect(rate.low).toBeCloseTo(5.4254, 3);
    expect(rate.high).toBeCloseTo(16.962, 3);
  });

  it('has a wider interval by bouts where photos come in bunches', () => {
    const single = nothingRate(spaced(12), 2)!;
    const bunched = nothingRate([0, 1, 2, 3, 4, 5, 900, 901, 902, 903, 904, 905], 2)!;
    expect(bunched.bouts!.n).toBe(2);
    expect(bunched.bouts!.high).toBeGreaterThan(1.5 * single.high);
  });

  it('is not told of no hours', () => expect(nothingRate([], 0)).toBeNull());
});

describe('what a promise allows for', () => {
  it('has the value in its middle and both ends where 5 % are left over', () => {
    const means = meansPromised([{ hours: 2, perHour: { value: 8, low: 3, high: 20 } }]).sort(
      (a, b) => a - b,
    );
    const at = (share: number) => means[Math.floor(share * means.length)]!;
    expect(at(0.5)).toBeCloseTo(16, 0);
    expect(Math.abs(at(0.05) - 6)).toBeLessThan(0.5);
    expect(Math.abs(at(0.95) - 40)).toBeLessThan(2);
  });

  // Of an exact promise of 10 in the time, 16 or more come with a chance of 0.0487 and 4 or fewer with 0.0293 (Poisson
  // tables). The bunch of two that is added for what was not seen widens both a little.
  it('leaves of an exact promise little more than the tails of a Poisson count', () => {
    const exact = [{ hours: 1, perHour: { value: 10, low: 10, high: 10 } }];
    const high = tailsOf(spaced(16), exact).more;
    const low = tailsOf(spaced(4), exact).fewer;
    expect(high).toBeGreaterThan(0.0487);
    expect(high).toBeLessThan(0.09);
    expect(low).toBeGreaterThan(0.0293);
    expect(low).toBeLessThan(0.07);
  });
});

describe('a verdict', () => {
  const perHour = { value: 8, low: 4, high: 14 };
  const promised = { hours: 12, perHour };

  it.each<[string, number, typeof rateFrom]>([
    ['single photos', 1, rateFrom],
    ['bunches', 4, rateFrom],
    ['single photos at rates spread evenly', 1, evenRateFrom],
  ])('calls a promise that is true worse at most once in twenty, and better too: %s', (_, each, rateOf) => {
    const mean = (1 + each) / 2;
    const share = shares((random) => {
      const rate = rateOf(random, perHour);
      return verdictOf([{ times: process(random, rate / mean, 12, each), promised }]);
    });
    expect(share('worse')).toBeLessThan(0.05 + BY_CHANCE);
    expect(share('better')).toBeLessThan(0.05 + BY_CHANCE);
  });

  it('of several stretches calls a true promise worse at most once in twenty', () => {
    const stretches = [5, 2, 1, 4].map((hours) => ({ hours, perHour: { value: 6, low: 6, high: 6 } }));
    const share = shares((random) =>
      verdictOf(stretches.map((one) => ({ times: process(random, 6, one.hours), promised: one }))),
    );
    expect(share('worse')).toBeLessThan(0.05 + BY_CHANCE);
  });

  it('where nobody says when the camera was out does not call few photos close together many', () => {
    const exact = { value: 3, low: 3, high: 3 };
    const share = shares((random) => {
      const photos = process(random, 3, 1.5).map((time) => ({ time, seen: 'nothing' as const }));
      const outing = hoursOut(photos, {});
      if (!outing) return 'too little to tell';
      const hours = (outing.counting.until - outing.counting.from) / HOUR;
      return verdictOf([
        { times: outing.counted.map(({ time }) => time), promised: { hours, perHour: exact } },
      ]);
    });
    expect(share('worse')).toBeLessThan(0.05 + BY_CHANCE);
    expect(share('better')).toBeLessThan(0.05 + BY_CHANCE);
  });

  it('sees a rate three times that of the upper end', () => {
    const share = shares((random) => verdictOf([{ times: process(random, 42, 12), promised }]));
    expect(share('worse')).toBeGreaterThan(0.95);
  });

  it('holds where as much came as was promised, over hours enough', () => {
    expect(verdictOf([{ times: spaced(96, 400), promised }])).toBe('held');
  });

  it('is too little of an hour in which nothing came', () => {
    expect(verdictOf([{ times: [], promised: { hours: 0.25, perHour } }])).toBe('too little to tell');
  });

  it('is better where almost nothing came in many hours', () => {
    expect(verdictOf([{ times: spaced(5, 4000), promised }])).toBe('better');
  });

  it('is not held by a camera that hardly fires, however wide the promise', () => {
    const wide = { hours: 12, perHour: { value: 108, low: 0, high: 323 } };
    expect(verdictOf([{ times: [], promised: wide }])).not.toBe('held');
    expect(verdictOf([{ times: spaced(100, 400), promised: wide }])).toBe('too little to tell');
    expect(verdictOf([{ times: spaced(1300, 33), promised: wide }])).toBe('held');
  });

  it('is too little where nothing was promised', () => {
    expect(verdictOf([])).toBe('too little to tell');
  });

  it('is worse where one stretch of several broke its promise, though all in all as much came', () => {
    const calm: Came = { times: spaced(30, 700), promised: { hours: 6, perHour } };
    const wind: Came = { times: spaced(40, 80), promised: { hours: 1, perHour } };
    const still: Came = { times: [], promised: { hours: 6, perHour: { value: 6, low: 0, high: 14 } } };
    expect(verdictOf([calm, still])).not.toBe('worse');
    expect(verdictOf([calm, wind, still])).toBe('worse');
  });

  it('is told with photos not marked only where it is the same whatever they show', () => {
    const held = { times: spaced(96, 400), promised };
    expect(verdictWith([{ ...held, untold: spaced(3, 9000) }])).toBe('held');
    expect(verdictWith([{ ...held, untold: spaced(400, 100) }])).toBe('too little to tell');
  });
});

describe('hours that would tell', () => {
  it('are so many that as much as was promised, in them, is called held', () => {
    const perHour = { value: 6, low: 4, high: 9 };
    const hours = hoursToTell(perHour, 1)!;
    const at = (n: number) =>
      verdictOf([
        { times: spaced(Math.ceil(6 * n), (n * HOUR) / Math.ceil(6 * n)), promised: { hours: n, perHour } },
      ]);
    expect(at(1.2 * hours)).toBe('held');
    expect(at(hours / 3)).toBe('too little to tell');
  });

  it('are none where a month does not do', () => {
    expect(hoursToTell({ value: 0.001, low: 0, high: 0.002 }, 1)).toBeNull();
  });
});
