import { describe, expect, test } from 'vitest';
import { createScene } from '../../src/scene/scene.js';
import { moved, shakenBy } from '../../src/scene/shakes.js';
import { conditions, spec } from './specs.js';

describe('a knocked camera', () => {
  test('a whole shift moves every pixel, its edge repeated', () => {
    const rgb = Float32Array.from({ length: 4 * 3 * 3 }, (_, i) => i);
    const out = moved(rgb, 4, 3, { x: 1, y: 0 }, new Float32Array(rgb.length));
    const red = (a: Float32Array) => Array.from({ length: 4 }, (_, x) => a[(4 + x) * 3]);
    expect(red(rgb)).toEqual([12, 15, 18, 21]);
    expect(red(out)).toEqual([12, 12, 15, 18]);
  });

  test('half a pixel is the mean of two', () => {
    const rgb = Float32Array.from({ length: 4 * 3 * 3 }, (_, i) => i);
    const out = moved(rgb, 4, 3, { x: 0.5, y: 0 }, new Float32Array(rgb.length));
    expect(out[(4 + 2) * 3]).toBe((15 + 18) / 2);
  });

  test('swings die away', () => {
    const shake = { start: 1, end: 9, x: 4, y: 0, hertz: 1, keep: 0.5 };
    expect(shakenBy([shake], 0.9)).toEqual({ x: 0, y: 0 });
    // A whole period later the same swing, by half.
    expect(shakenBy([shake], 2.2).x / shakenBy([shake], 1.2).x).toBeCloseTo(0.5, 9);
    expect(shakenBy([shake], 9.1)).toEqual({ x: 0, y: 0 });
  });

  test('the labels say when, and the picture is still at other times', () => {
    const scene = createScene(spec({ shakes: 240, seconds: 30, ...conditions(0) }));
    const shaken = scene.labels.causes?.filter(({ cause }) => cause === 'shake') ?? [];
    expect(shaken.length).toBeGreaterThan(0);
    for (const { start, end } of shaken) expect(end).toBeGreaterThan(start);
  });
});
