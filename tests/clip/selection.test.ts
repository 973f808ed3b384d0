import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { selectionOf } from '../../src/clip/selection.js';
import { sampleFrames } from '../../src/engine/sample.js';

/** The numbers below `frames` for which an expression holds, with ffmpeg's functions written in JavaScript. */
function chosen(expression: string, frames: number): number[] {
  const holds = new Function(
    'n',
    `const { floor } = Math;
     const between = (x, a, b) => Number(x >= a && x <= b);
     const eq = (a, b) => Number(a === b);
     const gt = (a, b) => Number(a > b);
     return ${expression};`,
  ) as (n: number) => number;
  return Array.from({ length: frames }, (_, n) => n).filter((n) => holds(n) !== 0);
}

describe('frames are selected', () => {
  test('all from the first on need no expression', () => {
    expect(selectionOf([])).toBeNull();
    expect(selectionOf([0, 1, 2, 3])).toBeNull();
  });

  test('runs by where they begin and end', () => {
    expect(selectionOf([3, 4, 5, 9])).toBe('between(n,3,5)+eq(n,9)');
  });

  test.each([
    [25, 2],
    [30, 4],
    [29.97, 5],
    [24, 7],
    [60, 1],
  ])('of a recording of %d frames a second those that a camera at %d sees', (of, rate) => {
    const frames = 20_000;
    const times = Float64Array.from({ length: frames }, (_, k) => k / of);
    const indices = sampleFrames(times, frames / of, of, rate);
    const expression = selectionOf(indices);
    if (expression === null) throw new Error('expected an expression');
    expect(expression.length).toBeLessThan(200);
    expect(chosen(expression, frames)).toEqual([...indices]);
    // Gone on with in the middle, too.
    expect(chosen(selectionOf(indices.subarray(100))!, frames)).toEqual([...indices.subarray(100)]);
  });

  test('none but those, or there is no expression: any rising numbers', () => {
    const rising = fc
      .uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 200 })
      .map((numbers) => numbers.sort((a, b) => a - b));
    fc.assert(
      fc.property(rising, (indices) => {
        const expression = selectionOf(indices);
        if (expression !== null) expect(chosen(expression, 420)).toEqual(indices);
      }),
    );
  });

  test('uneven ones in great number are not', () => {
    const indices = Array.from({ length: 500 }, (_, k) => 3 * k + Number(k % 7 === 0) + Number(k % 11 === 3));
    expect(selectionOf(indices)).toBeNull();
  });
});
