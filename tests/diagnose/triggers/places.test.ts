import { describe, expect, test } from 'vitest';
import type { Clip } from '../../../src/clip/open.js';
import { fractionBox, PlaceCounter } from '../../../src/diagnose/triggers/places.js';
import type { Region } from '../../../src/engine/region.js';
import type { Judged } from '../../../src/score/replayed.js';

const [width, height] = [240, 180];

/** A region of one pixel in the middle of a cell of 10 by 10 pixels; the map has 24 by 18 cells. */
function inCell(column: number, row: number): Region {
  const mask = new Uint8Array(width * height);
  mask[(row * 10 + 5) * width + column * 10 + 5] = 1;
  return { mask, width, height, pixels: 1 };
}

function counter(box?: [number, number, number, number]): PlaceCounter {
  const visit = { start: 1, end: 5, name: 'wren' };
  const clip = {
    labels: { version: 1, visits: [{ ...visit, type: 'animal', ...(box && { box }) }] },
  } as unknown as Clip;
  const judged = {
    triggers: [{ time: 2, photos: [2], verdict: 'true', visit: 0 }],
    visits: [{ ...visit, caught: true }],
  } as unknown as Judged;
  return new PlaceCounter({ clip, judged });
}

const marked = (counts: readonly number[]) =>
  counts.flatMap((n, i) => (n > 0 ? [[i % 24, Math.floor(i / 24), n]] : []));

describe('where things were', () => {
  test('every trigger counts once in each cell that it fired in', () => {
    const places = counter();
    places.addExplained(inCell(3, 2));
    places.addExplained(inCell(3, 2));
    places.addExplained(inCell(0, 17));
    expect(marked(places.places.explained)).toEqual([
      [3, 2, 2],
      [0, 17, 1],
    ]);
  });

  test('without a box an animal was where its triggers fired, once however often', () => {
    const places = counter();
    places.addTrue(0, inCell(3, 2));
    places.addTrue(0, inCell(3, 2));
    expect(marked(places.places.animals)).toEqual([[3, 2, 1]]);
  });

  test('a branch that fired outside the box of the visit is no animal', () => {
    const places = counter([0.5, 0.5, 2 / 24, 1 / 18]);
    places.addTrue(0, inCell(12, 9));
    places.addTrue(0, inCell(1, 1));
    expect(marked(places.places.animals)).toEqual([[12, 9, 1]]);
  });

  test('where nothing fired in the box, it was somewhere in it', () => {
    expect(marked(counter([0.5, 0.5, 2 / 24, 1 / 18]).places.animals)).toEqual([
      [12, 9, 1],
      [13, 9, 1],
    ]);
  });

  test('the box around a region, in fractions of the frame', () => {
    const region = inCell(3, 2);
    region.mask[(2 * 10 + 9) * width + 44] = 1;
    expect(fractionBox(region)).toEqual([35 / 240, 25 / 180, 10 / 240, 5 / 180]);
  });
});
