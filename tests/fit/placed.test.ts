import { describe, expect, it } from 'vitest';
import { burstsIn } from '../../src/fit/fired/bursts.js';
import { placed } from '../../src/fit/fired/placed.js';
import { type Stamp, stampOf } from '../../src/fit/fired/stamps.js';

const stamps = (...times: (string | number)[]) =>
  times.map((time, i) => stampOf(time, `fired.csv: line ${i + 1}`));
const start = '2026-05-04T06:10:00+01:00';
const seconds = 600;

describe('fired times as somebody wrote them', () => {
  it.each<[string | number, object]>([
    [72.4, { from: 'clip', seconds: 72.4 }],
    ['72.4', { from: 'clip', seconds: 72.4 }],
    ['1:12.4', { from: 'clip', seconds: 72.4 }],
    [
      '2026-05-04T06:11:12.500+01:00',
      { from: '1970', seconds: Date.UTC(2026, 4, 4, 5, 11, 12, 500) / 1000, zone: 60 },
    ],
    ['2026-05-04 05:11Z', { from: '1970', seconds: Date.UTC(2026, 4, 4, 5, 11) / 1000, zone: 0 }],
    ['11:05:02', { from: 'day', seconds: 11 * 3600 + 5 * 60 + 2 }],
    ['2026/05/04 06:11:12', { from: '1970', seconds: Date.UTC(2026, 4, 4, 6, 11, 12) / 1000, zone: null }],
    ['04.05.2026 06:11:12', { from: '1970', seconds: Date.UTC(2026, 4, 4, 6, 11, 12) / 1000, zone: null }],
    ['2026-05-04T06:11:12', { from: '1970', seconds: Date.UTC(2026, 4, 4, 6, 11, 12) / 1000, zone: null }],
  ])('%s', (text, stamp) => {
    expect(stampOf(text, 'here')).toEqual(stamp);
  });

  it.each<[unknown, RegExp]>([
    ['soon', /^here: expected seconds .*, found "soon"$/],
    ['2026-02-30T06:00:00Z', /there is no such day/],
    ['04/05/2026 06:11:12', /nobody can tell the day from the month; write the year first/],
    [1_777_000_000, /seconds since 1970/],
    ['2026-05-04T06:11:12+99:00', /there is no such zone/],
    ['2026-05-04T06:11:12+01:75', /there is no such zone/],
    [null, /found null/],
  ])('not %j', (given, message) => {
    expect(() => stampOf(given, 'here')).toThrow(message);
  });
});

describe('where on the clip they lie', () => {
  it('by their zone and the start of the clip', () => {
    const told = placed(
      stamps('2026-05-04T05:11:00Z', '2026-05-04T05:12:30Z'),
      { start, seconds },
      'f',
      null,
    );
    expect(told).toMatchObject({ times: [60, 150], isPlaced: true, assumed: [] });
  });

  it("without a zone by the clock of the clip's start, and that is said", () => {
    const { times, assumed } = placed(stamps('2026-05-04T06:11:00'), { start, seconds }, 'f', null);
    expect(times).toEqual([60]);
    expect(assumed).toEqual([expect.stringContaining('without a zone are by the clock')]);
  });

  it('times of day by the clock of the start, also past midnight, and that is said', () => {
    const late = { start: '2026-05-04T23:55:00+01:00', seconds };
    const { times, assumed } = placed(stamps('23:56:10', '00:02:00'), late, 'f', null);
    expect(times).toEqual([70, 420]);
    expect(assumed[0]).toMatch(
      /^fired times without a date are times of day by the clock of the clip's start/,
    );
  });

  it('hours, minutes and seconds that lie on the clip count from its start', () => {
    const { times, assumed } = placed(stamps('0:01:10', '0:07:00'), { start, seconds }, 'f', null);
    expect(times).toEqual([70, 420]);
    expect(assumed).toEqual([]);
  });

  it('a clock that was set to another zone is noticed', () => {
    const { times, assumed } = placed(stamps('2026-05-04T05:11:00'), { start, seconds }, 'f', null);
    expect(times).toEqual([60]);
    expect(assumed[1]).toMatch(/1 h behind/);
  });

  it('without a start nobody says where', () => {
    const { times, isPlaced } = placed(
      stamps('2026-05-04T06:11:00', '2026-05-04T06:11:40'),
      { seconds },
      'f',
      null,
    );
    expect({ times, isPlaced }).toEqual({ times: [0, 40], isPlaced: false });
  });

  it('a clock in another zone is noticed for the times that do not say theirs alone', () => {
    const { times } = placed(
      stamps('2026-05-04T08:11:00+01:00', '2026-05-04T05:11:00', '2026-05-04T05:12:00'),
      { start, seconds },
      'f',
      null,
    );
    expect(times).toEqual([60, 120, 7260]);
  });

  it('times with and without a zone do not stand side by side where no start tells it', () => {
    expect(() =>
      placed(stamps('2026-05-04T06:11:12+01:00', '2026-05-04T06:12:12'), { seconds }, 'f', null),
    ).toThrow(/^f: expected a zone behind all .*found 1 of 2 without/);
  });

  it('seconds and dates do not stand side by side', () => {
    expect(() => placed(stamps(5, '2026-05-04T06:11:00'), { start, seconds }, 'f', null)).toThrow(
      /found both/,
    );
  });

  it('knows times that were rounded to seconds', () => {
    expect(placed(stamps(3, 14, 60), { seconds }, 'f', null).quantum).toBe(1);
    expect(placed(stamps(3.21, 14, 60), { seconds }, 'f', null).quantum).toBe(0);
  });
});

describe('photos of one burst', () => {
  it('are one trigger, also where one of them is missing', () => {
    const photos = [10, 40, 70, 75, 100, 130].flatMap((time) => [time, time + 1, time + 2]);
    photos.splice(4, 1);
    const { times, burst } = burstsIn(photos, 1, null);
    expect(times).toEqual([10, 40, 70, 75, 100, 130]);
    expect(burst).toEqual({ photos: 3, interval: expect.closeTo(1, 0) });
  });

  it.each([
    { photos: 4, interval: 0.5 },
    { photos: 3, interval: 0.7 },
    { photos: 4, interval: 0.7 },
    { photos: 3, interval: 1.4 },
  ])('$photos photos $interval s apart are seen in whole seconds too', ({ photos, interval }) => {
    const bursts = Array.from({ length: 12 }, (_, i) => 20 + 41.37 * i);
    const stamped = bursts.flatMap((time) =>
      Array.from({ length: photos }, (_, i): Stamp => {
        const seconds = Math.floor(time + i * interval);
        return { from: 'clip', seconds };
      }),
    );
    const told = placed(stamped, { seconds }, 'DCIM', null);
    expect(told.times).toEqual(bursts.map(Math.floor));
    expect(told).toMatchObject({ quantum: 1, given: 12 * photos, burst: { photos } });
    expect(Math.abs(told.burst!.interval - interval)).toBeLessThan(0.15);
  });

  it('that were copied are no bursts', () => {
    const photos = [10, 40, 70, 75, 100, 130];
    const copied = photos.flatMap((time) => [time, time]);
    expect(burstsIn(copied, 1, null)).toEqual({ times: photos, burst: null });
    const exact = copied.map((time) => time + 0.123);
    expect(burstsIn(exact, 0, null).times).toHaveLength(6);
  });

  it('a camera that something keeps firing takes no bursts', () => {
    const photos = [10, 12, 14, 16, 18, 40, 42, 70, 100, 102, 104, 130, 150];
    expect(burstsIn(photos, 0, null)).toEqual({ times: photos, burst: null });
  });

  it('by what the owner says of them', () => {
    expect(burstsIn([10, 11, 30, 31], 0, { photos: 2, interval: 1 }).times).toEqual([10, 30]);
  });
});

describe('times that nothing places on the clip', () => {
  const day = Date.UTC(2026, 4, 9, 6) / 1000;
  const at = (seconds: number): Stamp => ({ from: '1970', seconds, zone: null });
  const outing = Array.from({ length: 9 }, (_, i) => at(day + 100 * i));

  it('leave out the few of a clock that was not set, and say so', () => {
    const { times, assumed } = placed([at(20), ...outing], { seconds: 900 }, 'fired', null);
    expect(times).toHaveLength(9);
    expect(assumed.join()).toMatch(/1 of 10 fired times are of other days/);
  });

  it('are refused where they are of many days', () => {
    const fortnight = Array.from({ length: 14 }, (_, i) => at(day + 86_400 * i + 30 * i));
    expect(() => placed(fortnight, { seconds: 900 }, 'DCIM', null)).toThrow(/DCIM: .*over 14 days.*"start"/);
  });
});
