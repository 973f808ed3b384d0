import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { clock } from '../../src/base/figures.js';
import { secondsOf, time } from '../../src/base/time.js';

describe('a time that a person writes', () => {
  it.each([
    ['0:00', 0],
    ['0:12', 12],
    ['0:12.4', 12.4],
    ['0:12.40', 12.4],
    ['1:15', 75],
    ['01:15', 75],
    ['90:00', 5400],
    ['1:01:15', 3675],
    ['1:02:03.5', 3723.5],
    ['0:00:00.000001', 0.000001],
    ['0:12.123456789012', 12.123456789012],
    ['0:00.1', 0.1],
    ['9999999:59:59', 35_999_999_999],
  ])('%s is %d s', (text, seconds) => {
    expect(secondsOf(text)).toBe(seconds);
  });

  it.each([
    ...['', '12', '12.4', '1:2', '1:75', '1:60', '60:60:00', '1:60:00', '1:2:03', '1:02:3', '1:00:00:00'],
    ...['-0:03', '+0:03', '0:-3', '0:12.', '0:.5', ':12', '0:12,4', '0:12.4s', ' 0:12', '0:12\n', '0:1e1'],
    ...['0:NaN', 'NaN', 'Infinity', '12345678:00', '٠:١٢', '2026-05-04T06:10:00Z'],
  ])('%j is none', (text) => {
    expect(secondsOf(text)).toBeUndefined();
  });

  it('reads back what output prints', () => {
    fc.assert(
      fc.property(fc.nat({ max: 1_000_000 }), (tenths) => {
        expect(secondsOf(clock(tenths / 10, 1))).toBe(tenths / 10);
      }),
    );
  });
});

describe('a time in a file', () => {
  const schema = time(z.number().min(0));

  it('may be a number or written out, and is a number once read', () => {
    expect([12.4, '0:12.4', 0].map((given) => schema.parse(given))).toEqual([12.4, 12.4, 0]);
  });

  it.each([
    ['1:75', 'seconds or "m:ss", such as 72.4 or "1:12.4"'],
    [null, 'seconds or "m:ss", such as 72.4 or "1:12.4"'],
    ['12.4', 'seconds or "m:ss", such as 72.4 (without quotation marks) or "1:12.4"'],
  ])('%j is refused, saying what is expected', (given, expected) => {
    expect(schema.safeParse(given).error?.issues).toMatchObject([{ message: expected }]);
  });

  it('keeps the bounds of a number', () => {
    expect(schema.safeParse(-3).error?.issues).toMatchObject([{ code: 'too_small' }]);
  });
});
