import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compiledJoiner } from '../../src/engine/compiled/joiner.js';
import { meterForMany } from '../../src/engine/compiled/meter.js';
import { EvidenceMeter, type LevelWatch } from '../../src/engine/evidence.js';
import { Pieces } from '../../src/engine/pieces.js';
import { changedPixels } from '../../src/engine/region.js';
import { randomBytes } from './frames.js';

interface Frame {
  readonly width: number;
  readonly height: number;
  readonly difference: Uint8Array;
}

type MeterFor = (width: number, height: number, floor?: number) => EvidenceMeter;

/** Both must come to the same: WebAssembly where there is some, and what stands in for it elsewhere. */
const METERS: readonly [string, MeterFor][] = [
  ['in JavaScript', (width, height, floor) => new EvidenceMeter(width, height, floor)],
  ['for many frames', meterForMany],
];

it('for many frames it is measured in WebAssembly', () => {
  expect(compiledJoiner(4, 3, 1)).not.toBeNull();
});

/** Areas at each level by one flood fill after another. */
function byFlood({ width, height, difference }: Frame, floor = 1) {
  const pieces = new Pieces(width, height);
  const of = (area: (level: number) => number) =>
    Array.from({ length: 256 }, (_, level) => (level < floor ? 0 : area(level)));
  return {
    changed: of((level) => changedPixels(difference, level)),
    region: of((level) => pieces.largest(difference, level)),
  };
}

/** Frames of few or many levels, so that plateaus and lone peaks both come up; a third of them mostly calm. */
const frame: fc.Arbitrary<Frame> = fc
  .tuple(
    fc.integer({ min: 1, max: 17 }),
    fc.integer({ min: 1, max: 17 }),
    fc.constantFrom(1, 3, 20, 255),
    fc.constantFrom(0, 0, 0.8),
    fc.string(),
  )
  .map(([width, height, top, calm, seed]) => {
    const stilled = randomBytes(width * height, `${seed} calm`);
    const difference = randomBytes(width * height, seed, top);
    return { width, height, difference: difference.map((d, i) => (stilled[i]! < calm * 255 ? 0 : d)) };
  });

/** The pieces of a level, by the positions of their pixels in the padded frame. */
function piecesAt({ width, height, difference }: Frame, level: number): Map<number, Int32Array> {
  const of = new Map<number, Int32Array>();
  const changed = difference.map((value) => Number(value >= level));
  new Pieces(width, height).forEach(changed, 1, (pixels) => {
    const piece = pixels.slice();
    for (const i of piece) of.set((Math.floor(i / width) + 1) * (width + 2) + (i % width) + 1, piece);
  });
  return of;
}

describe.each(METERS)('%s', (_, meterFor) => {
  function areas({ width, height, difference }: Frame, floor?: number) {
    const { changed, region } = meterFor(width, height, floor).measure(difference);
    return { changed: [...changed], region: [...region] };
  }

  // Published examples: Najman & Couprie (2006) say that a region of at least a pixels at threshold t exists exactly when
  // the largest one has a or more. The numbers for this grid were computed from that, for 4- and 8-connectivity alike.
  describe('a grid of 3 by 3', () => {
    // biome-ignore format: a grid
    const grid = { width: 3, height: 3, difference: Uint8Array.of(
    15, 13, 16,
    12, 12, 10,
    16, 12, 14,
  ) };

    it.each([
      [10, 9, 9],
      [12, 8, 8],
      [13, 3, 5],
      [14, 1, 4],
      [15, 1, 3],
      [16, 1, 2],
    ])('at threshold %i: largest region %i, all %i', (level, region, changed) => {
      const found = areas(grid);
      expect([found.region[level], found.changed[level]]).toEqual([region, changed]);
    });

    it('keeps its areas between its levels, and has none above them', () => {
      const { region } = areas(grid);
      expect(region.slice(1)).toEqual([
        ...Array(10).fill(9),
        ...[8, 8, 3, 1, 1, 1],
        ...Array(255 - 16).fill(0),
      ]);
    });
  });

  describe('connectivity', () => {
    it('runs over corners: two diagonal pixels are one region', () => {
      // 1 under 4-connectivity, 2 under 8-connectivity, computed from the definition.
      expect(areas({ width: 2, height: 2, difference: Uint8Array.of(9, 0, 0, 9) }).region[9]).toBe(2);
      expect(areas({ width: 2, height: 2, difference: Uint8Array.of(0, 9, 9, 0) }).region[9]).toBe(2);
    });

    it('does not run round the edge of the frame', () => {
      // biome-ignore format: a grid
      const difference = Uint8Array.of(
      0, 0, 0, 0, 7,
      7, 0, 0, 0, 0,
      0, 0, 0, 0, 7,
    );
      expect(areas({ width: 5, height: 3, difference }).region[7]).toBe(1);
    });

    it('joins four corners by the pixel placed last', () => {
      // biome-ignore format: a grid
      const difference = Uint8Array.of(
      9, 0, 9,
      0, 5, 0,
      9, 0, 9,
    );
      const { region } = areas({ width: 3, height: 3, difference });
      expect([region[9], region[6], region[5]]).toEqual([1, 1, 5]);
    });
  });

  describe('extremes', () => {
    it('of a frame without difference: nothing at any level', () => {
      const { changed, region } = areas({ width: 7, height: 3, difference: new Uint8Array(21) });
      expect(new Set([...changed, ...region])).toEqual(new Set([0]));
    });

    it('of a frame all changed: everything at every level', () => {
      const { changed, region } = areas({ width: 7, height: 3, difference: new Uint8Array(21).fill(255) });
      expect(new Set([...changed.slice(1), ...region.slice(1)])).toEqual(new Set([21]));
    });

    it('of as many sets as fit: isolated pixels', () => {
      const [width, height] = [9, 7];
      const difference = Uint8Array.from({ length: width * height }, (_, i) =>
        (i % width) % 2 === 0 && Math.floor(i / width) % 2 === 0 ? 8 : 0,
      );
      const { changed, region } = areas({ width, height, difference });
      expect([changed[8], region[8]]).toEqual([20, 1]);
    });
  });

  it('keeps nothing of the frame before', () => {
    const meter = meterFor(20, 15);
    const levels = (seed: string) => randomBytes(300, seed, 3).map((value) => value * 85);
    meter.measure(levels('before'));
    const difference = levels('after');
    const { changed, region } = meter.measure(difference);
    expect({ changed: [...changed], region: [...region] }).toEqual(
      areas({ width: 20, height: 15, difference }),
    );
  });

  describe('for any frame', () => {
    it('evidence equals one flood fill after another', () => {
      fc.assert(
        fc.property(frame, (any) => {
          expect(areas(any)).toEqual(byFlood(any));
        }),
        { seed: 2006, numRuns: 150 },
      );
    });

    it('a floor leaves out the levels below it and changes no other', () => {
      fc.assert(
        fc.property(frame, fc.integer({ min: 1, max: 255 }), (any, floor) => {
          expect(areas(any, floor)).toEqual(byFlood(any, floor));
        }),
        { seed: 2007, numRuns: 150 },
      );
    });

    it('under one mask after another it is that of a frame with nothing there', () => {
      const masks = fc.array(fc.infiniteStream(fc.boolean()), { minLength: 1, maxLength: 3 });
      fc.assert(
        fc.property(
          frame,
          masks,
          fc.integer({ min: 1, max: 40 }),
          ({ width, height, difference }, hiding, floor) => {
            const meter = meterFor(width, height, floor);
            meter.take(difference);
            for (const hides of hiding) {
              const mask = difference.map(() => Number(hides.next().value));
              const left = difference.map((value, i) => (mask[i] === 0 ? value : 0));
              const { changed, region } = meter.areasUnder(meter.maskFor(mask));
              const found = { changed: [...changed], region: [...region] };
              expect(found).toEqual(byFlood({ width, height, difference: left }, floor));
            }
          },
        ),
        { seed: 2010, numRuns: 100 },
      );
    });

    it('under a mask that hides nothing of what changed it is that of the frame', () => {
      const meter = meterFor(3, 1, 2);
      meter.take(Uint8Array.of(1, 0, 9));
      const other = meter.areasUnder(meter.maskFor(Uint8Array.of(0, 0, 1)));
      expect([other.region[9], other.changed[9]]).toEqual([0, 0]);
      const same = meter.areasUnder(meter.maskFor(Uint8Array.of(1, 1, 0)));
      expect([same.region[9], same.changed[9], same.changed[1]]).toEqual([1, 1, 0]);
    });

    it('a watch is told of the sets of one flood fill after another', () => {
      fc.assert(
        fc.property(frame, fc.constantFrom(1, 2, 60), (any, every) => {
          const { width, height, difference } = any;
          const meter = meterFor(width, height);
          const found: number[][] = [];
          const expected: number[][] = [];
          const wanted = Uint8Array.from({ length: 256 }, (_, level) =>
            Number(level > 0 && level % every === 0),
          );
          const take: LevelWatch['take'] = (level, largest, placed, count, connected) => {
            const roots = [...placed.subarray(0, count)].map((at) => connected.rootAt(at));
            found.push([level, largest, ...roots.map((root) => connected.sizeOf(root)), new Set(roots).size]);
            const pieces = piecesAt(any, level);
            const sizes = [...placed.subarray(0, count)].map((at) => pieces.get(at)?.length ?? 0);
            expected.push([level, Math.max(0, ...sizes), ...sizes, new Set(pieces.values()).size]);
          };
          meter.take(difference);
          meter.areas({ wanted, take });
          expect(found).toEqual(expected);
          expect(found).toHaveLength(wanted.filter((one) => one === 1).length);
        }),
        { seed: 2011, numRuns: 60 },
      );
    });

    it('no area rises with the threshold', () => {
      fc.assert(
        fc.property(frame, (any) => {
          const { changed, region } = areas(any);
          for (let level = 2; level < 256; level++) {
            expect(changed[level]).toBeLessThanOrEqual(changed[level - 1]!);
            expect(region[level]).toBeLessThanOrEqual(region[level - 1]!);
          }
        }),
        { seed: 2008, numRuns: 100 },
      );
    });

    it('mirroring and turning change nothing', () => {
      fc.assert(
        fc.property(frame, (any) => {
          const { width, height, difference } = any;
          const at = (x: number, y: number) => difference[y * width + x]!;
          const flipped = difference.map((_, i) => at(width - 1 - (i % width), Math.floor(i / width)));
          const turned = difference.map((_, i) => at(Math.floor(i / height), i % height));
          const expected = areas(any);
          expect(areas({ ...any, difference: flipped })).toEqual(expected);
          expect(areas({ ...any, difference: difference.toReversed() })).toEqual(expected);
          expect(areas({ width: height, height: width, difference: turned })).toEqual(expected);
        }),
        { seed: 2009, numRuns: 100 },
      );
    });
  });
});
