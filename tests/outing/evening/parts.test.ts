import { describe, expect, it } from 'vitest';
import { burstsOf } from '../../../src/outing/evening/bursts.js';
import { hoursOut } from '../../../src/outing/evening/hours-out.js';
import { recordNext } from '../../../src/outing/evening/next.js';
import {
  byConditions,
  nothingIn,
  partsByHour,
  partsByStretch,
  partTold,
} from '../../../src/outing/evening/parts.js';
import { type Seen, timedIn } from '../../../src/outing/evening/photo.js';
import { tallyOf } from '../../../src/outing/evening/tally.js';

const HOUR = 3600;
const MIDNIGHT = Date.UTC(2026, 4, 9) / 1000;
const at = (hours: number, seen: Seen | null = 'nothing') => ({ time: MIDNIGHT + hours * HOUR, seen });
/** Hours that the first bunch takes. */
const BUNCH = 30 / HOUR;
const photos = [at(6.5, 'animal'), at(7.1), at(7.5), at(8.2), at(8.4, 'animal'), at(8.9), at(9.5)];

describe('a tally', () => {
  it('counts each kind, and the share of animals among animals and nothing', () => {
    const tally = tallyOf([at(1, 'animal'), at(2), at(3), at(4), at(5, 'person'), at(6, null)]);
    expect(tally).toMatchObject({ photos: 6, animal: 1, nothing: 3, person: 1, unmarked: 1 });
    expect(tally.precision).toMatchObject({ value: 0.25, n: 4 });
  });

  // Of none in 20 Wilson's upper end is z² / (20 + z²), z = 1.64485 for 90 %.
  it('has Wilson’s interval', () => {
    expect(tallyOf(Array.from({ length: 20 }, (_, i) => at(i))).precision?.high).toBeCloseTo(0.11916, 4);
  });

  it('says nothing of bouts where a time is not known, and nothing at all of no photos', () => {
    expect(tallyOf([at(1), { time: null, seen: 'animal' }]).precision).not.toHaveProperty('bouts');
    expect(tallyOf([at(1, 'person'), at(2, null)]).precision).toBeNull();
  });
});

describe('hours out', () => {
  it('run from the first photo to the last, which do not count themselves', () => {
    const outing = hoursOut(photos, {})!;
    expect([outing.out.from, outing.out.until]).toEqual([photos[0]!.time, photos.at(-1)!.time]);
    expect(outing.photos).toHaveLength(7);
    expect(outing.counted).toHaveLength(5);
  });

  // Twelve photos in four minutes, two bunches of four at its ends: told as 4 over 3:40 (65 an hour), they are 4 over 3:10.
  it('count what lies between two bunches over the time between them', () => {
    const bunches = [0, 5, 10, 15, 60, 100, 140, 200, 225, 230, 235, 240];
    const outing = hoursOut(
      bunches.map((s) => at(6 + s / HOUR)),
      {},
    )!;
    expect(outing.out.until - outing.out.from).toBeCloseTo(240);
    expect([outing.counting.from, outing.counting.until].map((s) => s - outing.out.from)).toEqual([30, 225]);
    expect(outing.counted).toHaveLength(4);
  });

  it('run as they are given, and then every photo in them counts', () => {
    const given = { from: MIDNIGHT + 7 * HOUR, until: MIDNIGHT + 10 * HOUR };
    const outing = hoursOut(photos, given)!;
    expect(outing.photos).toHaveLength(6);
    expect(outing.counted).toHaveLength(6);
  });

  it.each([
    ['no photo', []],
    ['one', [at(6)]],
    ['several within one bunch', [at(6), at(6.001), at(6.005)]],
  ])('are not told by %s', (_, few) => expect(hoursOut(few, {})).toBeNull());
});

describe('parts', () => {
  const outing = hoursOut(photos, {})!;

  it('are hours of the day, each with what of it the camera was out', () => {
    const parts = partsByHour(outing, []);
    expect(parts.map(({ hours }) => hours)).toEqual([0.5 - BUNCH, 1, 1, 0.5].map((x) => expect.closeTo(x)));
    expect(parts.map(nothingIn).map(({ length }) => length)).toEqual([0, 2, 2, 0]);
    expect(parts.map((part) => part.photos.length)).toEqual([1, 2, 3, 1]);
  });

  it('hold every photo, those of a bunch that goes on into the next hour too', () => {
    const late = [at(6.999), at(7.003), at(7.5), at(8.999), at(9.002)];
    const parts = partsByHour(hoursOut(late, {})!, []);
    expect(parts.map((part) => part.photos.length)).toEqual([1, 2, 1, 1]);
    expect(partTold(parts[3]!)).toMatchObject({ nothing: 1, hours: 0, nothingPerHour: null, promised: null });
  });

  it('are the same hour of two days together', () => {
    const days = [at(6), at(6.5), at(30.5), at(31.25)];
    const parts = partsByHour(hoursOut(days, {})!, []);
    expect(parts).toHaveLength(24);
    expect(parts[0]).toMatchObject({ hours: expect.closeTo(2 - BUNCH) });
    expect(parts[0]!.photos).toHaveLength(3);
    expect(parts.reduce((sum, { hours }) => sum + hours, 0)).toBeCloseTo(25.25 - BUNCH);
  });

  const perHour = { value: 4, low: 2, high: 7 };
  const stretch = (from: number, until: number, conditions: string[], promised = true) => ({
    from: MIDNIGHT + from * HOUR,
    until: MIDNIGHT + until * HOUR,
    conditions,
    nothingPerHour: promised ? perHour : null,
  });

  it('are stretches of a plan as far as the camera was out, and what lies between', () => {
    const parts = partsByStretch(outing, [
      stretch(8, 9, ['wind']),
      stretch(2, 7, ['calm']),
      stretch(9, 20, [], false),
    ]);
    expect(parts.map(({ hours }) => hours)).toEqual([0.5 - BUNCH, 1, 1, 0.5].map((x) => expect.closeTo(x)));
    expect(parts.map(({ promised }) => promised !== null)).toEqual([true, false, true, false]);
    expect(parts.map((part) => part.photos.length)).toEqual([1, 2, 3, 1]);
  });

  it('of like weather are put together', () => {
    const parts = partsByStretch(outing, [
      stretch(6, 7, ['rain', 'wind']),
      stretch(7, 8, ['calm']),
      stretch(8, 10, ['wind', 'rain']),
    ]);
    const pooled = byConditions(parts).map(({ conditions, part }) => [
      conditions,
      part.hours,
      part.photos.length,
    ]);
    expect(pooled).toEqual([
      ['rain, wind', expect.closeTo(2 - BUNCH), 5],
      ['calm', 1, 2],
    ]);
  });
});

describe('what to record next', () => {
  const part = (
    from: number,
    until: number,
    came: number,
    perHour: { value: number; low: number; high: number } | null,
  ) => {
    const hours = until - from;
    const taken = Array.from({ length: came }, (_, i) => at(from + ((i + 0.5) * hours) / came));
    return partTold({
      from: MIDNIGHT + from * HOUR,
      until: MIDNIGHT + until * HOUR,
      conditions: null,
      hours,
      photos: taken,
      counted: taken,
      promised: perHour && { hours, perHour },
    });
  };
  const narrow = { value: 6, low: 5, high: 7 };
  const wide = { value: 6, low: 0, high: 40 };
  const next = (parts: ReturnType<typeof part>[]) => {
    const found = recordNext(parts);
    return found && [(found.from - MIDNIGHT) / HOUR, found.why];
  };

  it('is where more came than was promised', () => {
    expect(next([part(6, 8, 12, narrow), part(8, 10, 60, narrow), part(10, 12, 0, wide)])).toEqual([
      8,
      'came oftener than promised',
    ]);
  });

  it('is else where nothing was promised and something came', () => {
    expect(next([part(6, 8, 12, narrow), part(8, 10, 3, null), part(10, 12, 12, wide)])).toEqual([
      8,
      'nothing was promised',
    ]);
  });

  it('is else where the promise says least', () => {
    expect(next([part(6, 8, 12, narrow), part(8, 10, 12, wide)])).toEqual([8, 'least told']);
  });

  it('is without a promise where most of nothing came in an hour', () => {
    expect(next([part(6, 10, 12, null), part(10, 11, 9, null)])).toEqual([10, 'most of nothing']);
    expect(next([])).toBeNull();
  });
});

describe('bursts', () => {
  it('are photos that follow one another within two seconds, and no photo without a time', () => {
    expect(burstsOf([0, 1, 3, 6, 7, null, null, 8], null)).toEqual([0, 0, 0, 1, 1, 2, 3, 4]);
  });

  it('hold as many as the camera takes a trigger', () => {
    expect(burstsOf([0, 1, 2, 3, 4], { photos: 2, interval: 1 })).toEqual([0, 0, 1, 1, 2]);
    expect(burstsOf([0, 4, 8], { photos: 3, interval: 4 })).toEqual([0, 0, 0]);
    expect(burstsOf([0, 0, 0], { photos: 1, interval: 1 })).toEqual([0, 1, 2]);
  });
});

it('photos are put in order of time, and those without one left out', () => {
  expect(
    timedIn([at(3), { time: null, seen: null }, at(1)]).map(({ time }) => (time - MIDNIGHT) / HOUR),
  ).toEqual([1, 3]);
});
