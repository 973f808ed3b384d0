import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meterForMany } from '../../src/engine/compiled/meter.js';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { Pieces } from '../../src/engine/pieces.js';
import { CELLS, COLUMNS, PieceMeter, type PieceRules, ROWS } from '../../src/measure/pieces.js';
import { piecesIn, stirringOf } from '../../src/measure/stirring.js';

const [width, height] = [48, 24];
const rules: PieceRules = { width, height, levels: [40, 20, 5], minimum: 3, kind: 'region' };
const mask = Uint8Array.from({ length: width * height }, (_, i) => Number(i % width < 7));

/** Frames with a few rectangles of change, some of which touch. */
const frame = fc
  .array(
    fc.record({
      x: fc.nat(width - 1),
      y: fc.nat(height - 1),
      across: fc.integer({ min: 1, max: 9 }),
      down: fc.integer({ min: 1, max: 9 }),
      by: fc.integer({ min: 1, max: 60 }),
    }),
    { maxLength: 12 },
  )
  .map((rectangles) => {
    const difference = new Uint8Array(width * height);
    for (const { x, y, across, down, by } of rectangles) {
      for (let row = y; row < Math.min(height, y + down); row++)
        difference.fill(by, row * width + x, row * width + Math.min(width, x + across));
    }
    return difference;
  });

/** By whom pieces are found: the joiner in WebAssembly tells them by itself. */
const plain = () => new EvidenceMeter(width, height, 5);
const compiled = (meter: PieceMeter) => meterForMany(width, height, 5, meter);

function noted(
  frames: readonly Uint8Array[],
  of: PieceRules,
  masked: boolean,
  evidenceFor: (meter: PieceMeter) => EvidenceMeter,
): Uint8Array {
  const meter = new PieceMeter(of);
  const evidence = evidenceFor(meter);
  frames.forEach((difference, k) => {
    evidence.take(difference);
    if (masked) evidence.areasUnder(evidence.maskFor(mask), meter);
    else evidence.areas(meter);
    meter.endFrame(k);
  });
  return meter.bytesOf(frames.length) as Uint8Array;
}

const cellOf = (pixel: number) =>
  Math.floor((Math.floor(pixel / width) * ROWS) / height) * COLUMNS +
  Math.floor(((pixel % width) * COLUMNS) / width);
const inCells = (pixels: Iterable<number>) => {
  const counts = new Array<number>(CELLS).fill(0);
  for (const pixel of pixels) counts[cellOf(pixel)]!++;
  return counts;
};
const told = (bytes: Uint8Array, level: number, minimum: number) =>
  Array.from(piecesIn(stirringOf(bytes, [level]).get(level)!, minimum), ({ place, pieces }) => ({
    place,
    pieces: pieces
      .map(({ cells, counts }) => {
        const all = new Array<number>(CELLS).fill(0);
        cells.forEach((cell, i) => {
          all[cell] = counts[i]!;
        });
        return all.join(' ');
      })
      .sort(),
  }));

describe.each([
  ['WebAssembly', compiled],
  ['JavaScript', plain],
])('where frames changed, in %s', (_, by) => {
  it.each([
    ['all of the picture', false],
    ['what a mask leaves', true],
  ])('is what flood fill finds, at every level looked at: %s', (_, masked) => {
    const finder = new Pieces(width, height);
    fc.assert(
      fc.property(
        fc.array(frame, { maxLength: 4 }),
        fc.constantFrom(...rules.levels),
        fc.integer({ min: 3, max: 30 }),
        (frames, level, minimum) => {
          const expected = frames.flatMap((difference, place) => {
            const changed = difference.map((d, i) => Number(d >= level && !(masked && mask[i])));
            const pieces: string[] = [];
            finder.forEach(changed, minimum, (pixels) => pieces.push(inCells(pixels).join(' ')));
            return pieces.length > 0 ? [{ place, pieces: pieces.sort() }] : [];
          });
          expect(told(noted(frames, rules, masked, by), level, minimum)).toEqual(expected);
        },
      ),
      { seed: 2011, numRuns: 100 },
    );
  });

  it('is one piece of all that changed for a camera that counts all of it', () => {
    const apart = new Uint8Array(width * height);
    for (const pixel of [0, 100, 500]) apart[pixel] = 30;
    const bytes = noted([apart, new Uint8Array(apart.length)], { ...rules, kind: 'changed' }, false, by);
    expect(told(bytes, 20, 3)).toEqual([{ place: 0, pieces: [inCells([0, 100, 500]).join(' ')] }]);
    expect(told(bytes, 20, 4)).toEqual([]);
  });
});

it.each(['region', 'changed'] as const)('both note the same bytes: %s', (kind) => {
  fc.assert(
    fc.property(
      fc.array(frame, { minLength: 1, maxLength: 4 }),
      fc.boolean(),
      fc.integer({ min: 1, max: 40 }),
      (frames, masked, minimum) => {
        const of: PieceRules = { ...rules, levels: [40, 30, 20, 10, 5], kind, minimum };
        expect(noted(frames, of, masked, compiled)).toEqual(noted(frames, of, masked, plain));
      },
    ),
    { seed: 2012, numRuns: 200 },
  );
});

it('are told by the joiner in WebAssembly where it was made for that, and for no other watch', () => {
  const [meter, other] = [new PieceMeter(rules), new PieceMeter(rules)];
  const evidence = compiled(meter);
  evidence.take(new Uint8Array(width * height).fill(50));
  const asked: (PieceMeter | null)[] = [];
  for (const watch of [meter, other]) {
    evidence.areas({
      ...watch,
      take: (_, __, ___, ____, connected) => asked.push(connected.tell ? watch : null),
    });
  }
  expect(new Set(asked)).toEqual(new Set([meter, null]));
});

it('is not told where frames went by unseen', () => {
  const meter = new PieceMeter(rules);
  meter.endFrame(1);
  expect(meter.bytesOf(2)).toBeNull();
});
