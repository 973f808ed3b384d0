import { describe, expect, it } from 'vitest';
import { exactly } from '../../src/outing/between.js';
import { budgetOf } from '../../src/outing/budget.js';
import { cardDays, storageOf } from '../../src/outing/card.js';
import { powerOf } from '../../src/outing/power.js';

const { power } = powerOf({
  power: { mAh: 10_000, cellVolts: 3.7, efficiency: 0.7, volts: 5, idle: 0.35, photoJoules: 0 },
});

describe('a 16 GB card', () => {
  const card = { cardGB: 16, photoMB: exactly(3.5) };

  // 16 000 MB / 3.5 MB = 4571.4 photos; 240 a day fill it in 19.048 days.
  it('holds 4571 photos of 3.5 MB, 19 days of 240', () => {
    const days = cardDays(card, exactly(240));
    expect(days).toEqual({
      value: expect.closeTo(19.0476, 4),
      low: expect.closeTo(19.0476, 4),
      high: expect.closeTo(19.0476, 4),
    });
  });

  // At most 16 000 / 2 / 100 = 80 days, at the least 16 000 / 5 / 400 = 8.
  it('lasts longest with few small photos and shortest with many large ones', () => {
    const days = cardDays(
      { cardGB: 16, photoMB: { value: 3.5, low: 2, high: 5 } },
      { value: 240, low: 100, high: 400 },
    );
    expect(days).toMatchObject({ low: 8, high: 80 });
  });

  it('has no days where no photo is taken, and no end where none may be', () => {
    expect(cardDays(card, exactly(0))).toBeNull();
    expect(cardDays(card, { value: 240, low: 0, high: 480 })?.high).toBeNull();
  });

  // As where no false trigger was seen yet: 1000 MB / 5 MB / 400 an hour of 24 = 0.0208 days.
  it('may be full where no photo is to be expected but some may come', () => {
    const small = { cardGB: 1, photoMB: { value: 3.5, low: 2, high: 5 } };
    expect(cardDays(small, { value: 0, low: 0, high: 9600 })).toEqual({
      value: null,
      low: expect.closeTo(0.02083, 5),
      high: null,
    });
    const told = budgetOf(power, small, { value: 0, low: 0, high: 400 }, 24);
    expect(told).toMatchObject({ first: 'battery', sure: false });
    expect(told.endsAfterDays.low).toBeCloseTo(0.02083, 5);
    expect(told.endsAfterDays.value).toBeCloseTo(14.8 / 24, 9);
  });

  it('goes by photos that were measured before what camera.json says', () => {
    const measured = { value: 2.5, low: 2, high: 3 };
    const { storage, assumed } = storageOf({ storage: { cardGB: 32, photoMB: 9 } }, measured);
    expect(storage).toEqual({ cardGB: 32, photoMB: measured });
    expect(assumed).toEqual([]);
  });
});

describe('what ends first', () => {
  const storage = { cardGB: 16, photoMB: exactly(4) };

  // 37 * 0.7 / 1.75 = 14.8 h of battery: 1.85 days of 8 hours. The card: 4000 photos, at 500 an hour 8 hours, a day of them.
  it('counts battery and card in the same days', () => {
    const told = budgetOf(power, storage, exactly(500), 8);
    expect(told).toMatchObject({ first: 'card', sure: true, photosPerDay: exactly(4000) });
    expect(told.endsAfterDays.value).toBeCloseTo(1, 9);
    expect(told.batteryHours.value).toBeCloseTo(14.8, 9);
    // At 250 an hour the card has two days.
    expect(budgetOf(power, storage, exactly(250), 8).first).toBe('battery');
  });

  it('is not sure where it might be the other', () => {
    const told = budgetOf(power, storage, { value: 250, low: 100, high: 500 }, 8);
    expect(told).toMatchObject({ first: 'battery', sure: false });
    expect(told.endsAfterDays).toEqual({
      value: expect.closeTo(1.85, 9),
      low: expect.closeTo(1, 9),
      high: expect.closeTo(1.85, 9),
    });
  });

  // Photos of 4 MB, 4000 of them: at 100 to 260 an hour they are taken in 15.4 h at the soonest, after the battery's 14.8.
  // That the card lasts 5 days at the most and the battery 1.85 says nothing of it, for both feel the same photos.
  it('is sure where it is so at every number of photos', () => {
    expect(budgetOf(power, storage, { value: 250, low: 100, high: 260 }, 8).sure).toBe(true);
    expect(budgetOf(power, storage, { value: 250, low: 100, high: 280 }, 8).sure).toBe(false);
    expect(budgetOf(power, storage, { value: 400, low: 280, high: 900 }, 8)).toMatchObject({
      first: 'card',
      sure: true,
    });
    expect(budgetOf(power, storage, { value: 400, low: 260, high: 900 }, 8).sure).toBe(false);
  });

  it('is the battery where no photo is taken', () => {
    expect(budgetOf(power, storage, exactly(0), 24)).toMatchObject({
      first: 'battery',
      sure: true,
      cardDays: null,
    });
  });

  // Common practice: 80 % at freezing.
  it('tells how much less a battery gives in the cold', () => {
    const [frost] = budgetOf(power, storage, exactly(0), 24).inCold;
    expect(frost).toEqual({ celsius: 0, capacity: 0.8, batteryHours: expect.closeTo(11.84, 9) });
  });
});
