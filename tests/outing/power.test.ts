import { describe, expect, it } from 'vitest';
import { exactly } from '../../src/outing/between.js';
import { batteryHours, maySwitchOff, photosLeft, powerOf, wattHours } from '../../src/outing/power.js';

const bank = { mAh: 10_000, cellVolts: 3.7, efficiency: 0.85, volts: 5, photoJoules: 5 };
const powered = (idle: number) => powerOf({ power: { ...bank, idle } }).power;

describe('a 10 000 mAh power bank', () => {
  // 10 Ah * 3.7 V = 37 Wh; of these 0.85 is 31.45 Wh and 0.80 is 29.6 Wh (common practice: 0.80 to 0.85).
  it('gives 31.45 Wh, 29.6 at the least', () => {
    expect(wattHours(powered(0.35))).toEqual({
      value: expect.closeTo(31.45, 10),
      low: expect.closeTo(29.6, 10),
      high: expect.closeTo(31.45, 10),
    });
  });

  // By hand: 31.45 Wh / (5 V * 0.10 A) = 62.9 h; 31.45 / (5 * 0.35) = 17.971 h; 0.10 A is the published idle draw of the
  // smallest class of board, 0.35 A that and the 0.25 A which its maker requires for a camera module.
  it.each([
    [0.1, 62.9, 59.2],
    [0.35, 17.971, 16.914],
  ])('lasts at %d A idle for %d h', (idle, value, low) => {
    const hours = batteryHours(powered(idle), exactly(0));
    expect(hours.value).toBeCloseTo(value, 3);
    expect(hours.low).toBeCloseTo(low, 3);
  });

  // 360 photos an hour of 5 J are 0.5 W: 31.45 / (1.75 + 0.5) = 13.978 h.
  it('lasts less with photos, and the range takes in theirs', () => {
    const hours = batteryHours(powered(0.35), { value: 360, low: 0, high: 720 });
    expect(hours.value).toBeCloseTo(13.978, 3);
    // 29.6 / 2.75 and 31.45 / 1.75.
    expect(hours.low).toBeCloseTo(10.764, 3);
    expect(hours.high).toBeCloseTo(17.971, 3);
  });

  // 29.6 Wh over 12 h are 2.4667 W, 0.7167 W over the 1.75 W of idling: 2580 J an hour, 516 photos of 5 J.
  it('leaves 516 photos an hour if it must last 12 hours', () => {
    expect(photosLeft(powered(0.35), 12)).toBeCloseTo(516, 6);
  });

  it('lasts as long as it must with as many photos as it leaves', () => {
    const power = powered(0.2);
    const photos = photosLeft(power, 20);
    expect(batteryHours(power, exactly(photos ?? 0)).low).toBeCloseTo(20, 9);
  });

  // 29.6 / 1.75 = 16.9 h.
  it('leaves none for longer than it lasts idle', () => {
    expect(photosLeft(powered(0.35), 17)).toBeNull();
    expect(photosLeft(powered(0.35), 16.9)).toBeGreaterThan(0);
  });
});

describe('what camera.json says of the power', () => {
  it('is taken as it stands, and what it leaves out is named', () => {
    expect(powerOf({ power: { ...bank, idle: 0.35 } }).assumed).toEqual([]);
    const { power, assumed } = powerOf({ power: { mAh: 20_000, photoJoules: 0 } });
    expect(power).toMatchObject({ mAh: 20_000, photoJoules: 0, volts: 5, idle: 0.35 });
    expect(assumed.map((line) => line.split(':')[0])).toEqual([
      'power.cellVolts',
      'power.volts',
      'power.idle',
      'power.efficiency',
    ]);
  });

  it('an efficiency outside common practice was measured, and has no range', () => {
    const { power } = powerOf({ power: { ...bank, efficiency: 0.7 } });
    expect(power.efficiency).toEqual({ value: 0.7, low: 0.7, high: 0.7 });
  });

  it('says that an efficiency within common practice is taken as a range', () => {
    const { power, widened } = powerOf({ power: { ...bank, efficiency: 0.82 } });
    expect(power.efficiency).toEqual({ value: 0.82, low: 0.8, high: 0.85 });
    expect(widened).toMatch(/^power\.efficiency 0\.82 is taken as 0\.8 to 0\.85/);
    for (const efficiency of [0.7, undefined]) expect(powerOf({ power: { efficiency } }).widened).toBeNull();
  });
});

it('a power bank may switch itself off at 0.1 A and below', () => {
  expect(maySwitchOff(powered(0.1))).toBe(true);
  expect(maySwitchOff(powered(0.11))).toBe(false);
});
