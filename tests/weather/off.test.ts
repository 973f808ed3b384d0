import { describe, expect, it } from 'vitest';
import { countsWithin, offOf, oftenText, swayKnownOf } from '../../src/weather/off.js';

const ways = ['two clips', 'one clip', 'assumed'] as const;

describe('how far off simulated weather may be', () => {
  it('is told of one kind at a time, as strong as drawings of it were', () => {
    for (const sway of ways) {
      expect(offOf({ wind: 6 }, sway)).not.toBeNull();
      expect(offOf({ wind: 7 }, sway)).toBeNull();
      expect(offOf({ wind: 4, rain: 2 }, sway)).toBeNull();
      expect(offOf({}, sway)).toBeNull();
    }
    // Drawn in 4 mm/h alone.
    expect(offOf({ rain: 4 }, 'assumed')).not.toBeNull();
    expect(offOf({ rain: 4 }, 'assumed')).toEqual(offOf({ rain: 4 }, 'two clips'));
    expect(offOf({ rain: 8 }, 'assumed')).toBeNull();
    expect(offOf({ light: 20 }, 'assumed')).toBeNull();
  });

  it('is the least where a windy clip of the site was measured', () => {
    const widthOf = (sway: (typeof ways)[number]) => {
      const { low, high } = offOf({ wind: 5 }, sway)!;
      return high / low;
    };
    expect(widthOf('two clips')).toBeLessThan(widthOf('one clip'));
    expect(widthOf('two clips')).toBeLessThan(widthOf('assumed'));
  });

  it('is of counts with half a trigger on both sides, so that none may be some', () => {
    const { low, high } = countsWithin(0, { low: 0.5, high: 3 });
    expect([low, high]).toEqual([0, 1]);
    expect(countsWithin(9.5, { low: 0.5, high: 2 })).toEqual({ low: 4.5, high: 19.5 });
  });

  it('goes by what sway was measured on', () => {
    expect([swayKnownOf(undefined), swayKnownOf({}), swayKnownOf({ onTwo: true })]).toEqual([
      'assumed',
      'one clip',
      'two clips',
    ]);
  });

  it('is told as multiples to two figures', () => {
    expect(oftenText({ low: 0.333, high: 2.46 })).toBe('between 0.33 and 2.5 times as often');
  });
});
