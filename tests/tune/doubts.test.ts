import { describe, expect, it } from 'vitest';
import { doubtsAbout, drawnAgain, toDrawAgain } from '../../src/tune/doubts.js';
import { rainTold } from '../../src/tune/rain-parts.js';
import { isAsAssumed, type SimulatedSweep } from '../../src/tune/weather.js';
import { rainParts } from '../../src/weather/rain/rain-part.js';
import { allowance, grid, swept, visits } from './swept.js';

const truth = visits(20);
const sweep = (rest: Partial<SimulatedSweep>, caught: number[], falses: number[]): SimulatedSweep => ({
  condition: 'wind',
  clip: 'calm',
  strength: 6,
  ...rest,
  counts: swept(truth, caught, falses),
});
const sway = (times: number) => ({ doubt: { assumption: 'sway', times } as const });
const asAssumed = sweep({}, [4, 8, 12, 16, 18], [0, 1, 4, 60, 200]);
const doubled = sweep(sway(2), [4, 8, 12, 16, 18], [3, 40, 90, 200, 400]);
const halved = sweep(sway(0.5), [4, 8, 12, 16, 18], [0, 0, 3, 30, 100]);
const advised = { condition: 'wind' as const, setting: 2, rests: true };

describe('doubts about what is assumed', () => {
  const doubts = doubtsAbout(advised, [asAssumed, doubled, halved], grid, allowance);

  it('say when the advice would be another, against the same strength as assumed', () => {
    expect(doubts.map(({ times, flips }) => [times, flips])).toEqual([
      [2, true],
      [0.5, false],
    ]);
  });

  it('tell how what is advised does then, beside how it does as assumed', () => {
    expect(doubts[0]).toMatchObject({
      assumption: 'sway',
      strength: 6,
      recall: 0.6,
      asAssumed: { recall: 0.6 },
    });
    // Over an hour, within the visits' own seconds of it.
    expect(doubts[0]!.falsePerHour!).toBeCloseTo(90, 0);
    expect(doubts[0]!.asAssumed.falsePerHour!).toBeCloseTo(4, 0);
  });

  it('tell what is lost by the goal, and of how many visits', () => {
    const caught = sweep(sway(2), [4, 8, 3, 16, 18], [0, 1, 4, 60, 200]);
    expect(doubtsAbout(advised, [asAssumed, caught], grid, allowance)[0]).toMatchObject({
      lost: 9,
      visits: 20,
    });
    // 86 false triggers more at ten photos of nothing a visit come to 8.6 visits.
    const worth = { kind: 'worth', photos: 10, photosPerTrigger: 1 } as const;
    expect(doubtsAbout(advised, [asAssumed, doubled], grid, worth)[0]!.lost).toBeCloseTo(8.6, 9);
  });

  it('do not call advice another that is as wrong as assumed', () => {
    const tooMany = sweep({}, [4, 8, 12, 16, 18], [3, 40, 90, 200, 400]);
    expect(doubtsAbout(advised, [tooMany, doubled], grid, allowance)[0]!.flips).toBe(false);
  });

  it('are drawn again only where they change the advice, with what they are held against', () => {
    const wanted = [asAssumed, { ...asAssumed, strength: 4 }, doubled, halved];
    const tried = wanted.map(({ counts: _, clip: __, ...one }) => ({ ...one, to: { wind: one.strength } }));
    const without = { ...tried[0]!, without: rainParts };
    expect(toDrawAgain(doubts, [...tried, without])).toEqual([tried[0], tried[2]]);
  });

  it('that change the advice are told apart by whether a second drawing of chance does so too', () => {
    const second = (falses: number[]) =>
      doubtsAbout(advised, [asAssumed, sweep(sway(2), [4, 8, 12, 16, 18], falses)], grid, allowance);
    const again = (falses: number[]) => drawnAgain(doubts, second(falses)).map((doubt) => doubt.again);
    expect(again([3, 40, 90, 200, 400])).toEqual([true, undefined]);
    expect(again([0, 1, 4, 60, 200])).toEqual([false, undefined]);
    expect(drawnAgain(doubts, [])).toEqual(doubts);
  });

  it('leave open whether advice changes where too few visits carry any', () => {
    const few = doubtsAbout({ ...advised, rests: false }, [asAssumed, doubled], grid, allowance);
    expect(few[0]).toMatchObject({ flips: null, recall: 0.6 });
  });
});

describe('rain taken apart', () => {
  const rain = (without: SimulatedSweep['without'], falses: number) =>
    sweep(
      { condition: 'rain', strength: 8, ...(without && { without }) },
      [4, 8, 12, 16, 18],
      [0, 0, falses, 0, 0],
    );
  const all = rain(undefined, 40);
  const alone = (part: string) => rainParts.filter((other) => other !== part);

  it('tells false triggers by each part alone and without it', () => {
    const told = rainTold(
      [
        all,
        rain(alone('near drops'), 30),
        rain(['near drops'], 12),
        rain(alone('haze'), 3),
        rain(rainParts, 3),
      ],
      2,
    );
    expect(told!.strength).toBe(8);
    expect(told!.falsePerHour).toBeCloseTo(40, 0);
    expect(told!.dry).toBeCloseTo(3, 0);
    // In the order in which parts are named.
    expect(told!.parts.map(({ part }) => part)).toEqual(['near drops', 'haze']);
    expect(told!.parts[0]!.alone).toBeCloseTo(30, 0);
    expect(told!.parts[0]!.without).toBeCloseTo(12, 0);
    expect(told!.parts[1]).toMatchObject({ without: null });
    expect(told!.parts[1]!.alone).toBeCloseTo(3, 0);
  });

  it('is nothing where no part was tried', () => {
    expect(rainTold([all], 2)).toBeNull();
    expect(isAsAssumed(all)).toBe(true);
  });
});
