import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Arithmetic } from '../../src/engine/compiled/arithmetic.js';
import { grey } from '../../src/engine/luminance.js';
import { absoluteDifference } from '../../src/engine/reference.js';
import { smoothByOne } from '../../src/engine/smooth.js';
import { randomBytes } from './frames.js';

afterEach(() => {
  vi.unstubAllGlobals();
});

const compiled = Arithmetic.here() as Arithmetic;
const plain: Pick<Arithmetic, 'grey' | 'difference' | 'smooth'> = {
  grey,
  difference: absoluteDifference,
  smooth: smoothByOne,
};

it('is in WebAssembly', () => {
  expect(compiled).not.toBeNull();
});

it.each([
  [
    'is forbidden to compile anything',
    () => {
      throw new Error('disallowed by embedder');
    },
  ],
  ['knows no vectors', () => new WebAssembly.Module(Uint8Array.of(0))],
])('is none where a machine %s', (_, compile) => {
  const { Memory, Instance } = WebAssembly;
  vi.stubGlobal('WebAssembly', {
    Memory,
    Instance,
    Module: class {
      constructor() {
        compile();
      }
    },
  });
  expect(Arithmetic.here()).toBeNull();
});

describe.each([
  ['WebAssembly', compiled],
  ['JavaScript', plain],
])('arithmetic on frames in %s', (_, does) => {
  it('gives the luminance of every green and blue with every seventeenth red, a half rounded up', () => {
    const pixels = new Uint8Array(3 * 65_536);
    const out = new Uint8Array(65_536);
    const expected = new Uint8Array(65_536);
    for (let red = 0; red < 256; red += 17) {
      for (let i = 0; i < out.length; i++) {
        pixels[3 * i] = red;
        pixels[3 * i + 1] = i >> 8;
        pixels[3 * i + 2] = i & 255;
        expected[i] = Math.floor((299 * red + 587 * (i >> 8) + 114 * (i & 255) + 500) / 1000);
      }
      does.grey(pixels, out);
      expect(Buffer.compare(out, expected)).toBe(0);
    }
  });

  it('gives the difference of every two bytes', () => {
    const a = Uint8Array.from({ length: 65_536 }, (_, i) => i >> 8);
    const b = Uint8Array.from({ length: 65_536 }, (_, i) => i & 255);
    const out = new Uint8Array(65_536);
    does.difference(a, b, out);
    expect(out.findIndex((d, i) => d !== Math.abs(a[i]! - b[i]!))).toBe(-1);
  });

  it('does no more and no less than a frame, of whatever size, wherever it begins in memory', () => {
    const side = fc.integer({ min: 1, max: 40 });
    const begin = fc.integer({ min: 0, max: 4 });
    fc.assert(
      fc.property(side, side, begin, fc.string(), (width, height, from, seed) => {
        const all = randomBytes(3 * width * height + from, seed);
        const pixels = all.subarray(from);
        const [y, past] = [
          pixels.subarray(0, width * height),
          pixels.subarray(width * height, 2 * width * height),
        ];
        const into = () => new Uint8Array(y.length + 20).fill(7);
        const framed = (frame: Uint8Array) => [
          ...frame.subarray(0, from),
          ...frame.subarray(from + y.length),
        ];
        const at = (x: number, row: number) =>
          y[Math.min(height - 1, Math.max(0, row)) * width + Math.min(width - 1, Math.max(0, x))]!;
        const mean = (_: number, i: number) => {
          let sum = 0;
          for (const dy of [-1, 0, 1])
            for (const dx of [-1, 0, 1]) sum += at((i % width) + dx, Math.floor(i / width) + dy);
          return Math.round(sum / 9);
        };
        const [greys, differences, means] = [into(), into(), into()];
        does.grey(pixels, greys.subarray(from, from + y.length));
        does.difference(y, past, differences.subarray(from, from + y.length));
        does.smooth(y, width, height, means.subarray(from, from + y.length));
        for (const frame of [greys, differences, means]) expect(new Set(framed(frame))).toEqual(new Set([7]));
        const weighed = (_: number, i: number) =>
          Math.floor(
            (299 * pixels[3 * i]! + 587 * pixels[3 * i + 1]! + 114 * pixels[3 * i + 2]! + 500) / 1000,
          );
        expect([...greys.subarray(from, from + y.length)]).toEqual(Array.from(y, weighed));
        expect([...differences.subarray(from, from + y.length)]).toEqual(
          Array.from(y, (value, i) => Math.abs(value - past[i]!)),
        );
        expect([...means.subarray(from, from + y.length)]).toEqual(Array.from(y, mean));
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});
