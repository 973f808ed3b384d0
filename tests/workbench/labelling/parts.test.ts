import { describe, expect, it } from 'vitest';
import { edgeAt, lanesFor, ticksOf, windowAround } from '../../../src/workbench/page/parts/strip/layout.js';
import { caughtOf } from '../../../src/workbench/page/state/caught.js';
import { paced } from '../../../src/workbench/page/state/pace.js';
import { boxBetween, movedBox, widenedBox } from '../../../src/workbench/page/views/label/box.js';
import { stripOf } from '../../../src/workbench/page/worker/strip.js';

describe('shades of the strip', () => {
  const evidence = (times: number[], low: number[], high: number[]) => ({
    levels: [5, 50],
    times: Float64Array.from(times),
    region: new Map([
      [5, Uint32Array.from(low)],
      [50, Uint32Array.from(high)],
    ]),
    changed: new Map<number, Uint32Array>(),
  });

  it('are the most in each bucket, at every level', () => {
    const four = evidence([0, 1, 2, 3], [0, 9, 4, 8], [0, 1, 2, 0]);
    expect([...stripOf(four, 'region', 2, 0, 4).most]).toEqual([9, 8, 1, 2]);
  });

  it('hold a frame until the next where buckets are shorter', () => {
    const four = evidence([0, 1, 2, 3], [3, 9, 4, 8], [0, 0, 0, 0]);
    expect([...stripOf(four, 'region', 4, 1, 3).most.slice(0, 4)]).toEqual([9, 9, 4, 4]);
    expect([...stripOf(four, 'region', 2, 1.5, 2.5).most.slice(0, 2)]).toEqual([9, 4]);
  });

  it('show nothing where there were no frames', () => {
    const gap = evidence([0, 1, 2, 3, 20, 21], [7, 7, 7, 7, 7, 7], [0, 0, 0, 0, 0, 0]);
    const most = [...stripOf(gap, 'region', 22, 0, 22).most.slice(0, 22)];
    expect(most[3]).toBe(7);
    expect(most.slice(14, 20)).toEqual([0, 0, 0, 0, 0, 0]);
    expect(most[20]).toBe(7);
  });
});

it('shades hold no frame into a gap, however long it is', () => {
  const times = Array.from({ length: 200 }, (_, k) => (k < 100 ? k : k + 3600));
  const area = new Map([[5, Uint32Array.from(times, () => 7)]]);
  const evidence = { levels: [5], times: Float64Array.from(times), region: area, changed: area };
  // The last frame before the gap stands from 99 to 101.5 s.
  expect([...stripOf(evidence, 'region', 10, 95, 105).most]).toEqual([7, 7, 7, 7, 7, 7, 7, 0, 0, 0]);
});

describe('the strip', () => {
  it('keeps its window within the clip', () => {
    expect(windowAround(1, 10, 60)).toEqual({ from: 0, to: 10 });
    expect(windowAround(59, 10, 60)).toEqual({ from: 50, to: 60 });
    expect(windowAround(30, 100, 60)).toEqual({ from: 0, to: 60 });
  });

  it('marks as many moments as have room', () => {
    expect(ticksOf({ from: 0, to: 330, width: 400 })).toEqual({
      every: 60,
      times: [0, 60, 120, 180, 240, 300],
    });
  });

  it('puts what overlaps in rows of its own', () => {
    const stretches = [
      { start: 0, end: 5 },
      { start: 6, end: 7 },
      { start: 3, end: 8 },
    ];
    expect(lanesFor(stretches, 3)).toEqual({ lanes: [0, 0, 1], count: 2 });
  });

  it('takes hold of the nearer end, and of the chosen stretch where two lie on one another', () => {
    const span = { from: 0, to: 100, width: 100 };
    const stretches = [
      { start: 10, end: 20 },
      { start: 20, end: 30 },
    ];
    expect(edgeAt(12, stretches, span, 5, null)).toEqual({ at: 0, edge: 'start' });
    expect(edgeAt(20, stretches, span, 5, 0)).toEqual({ at: 0, edge: 'end' });
    expect(edgeAt(20, stretches, span, 5, 1)).toEqual({ at: 1, edge: 'start' });
    expect(edgeAt(50, stretches, span, 5, 1)).toBeNull();
  });

  it('tells the two ends of a visit of one frame apart by the side', () => {
    const span = { from: 0, to: 100, width: 100 };
    expect(edgeAt(8, [{ start: 10, end: 10 }], span, 5, null)).toEqual({ at: 0, edge: 'start' });
    expect(edgeAt(12, [{ start: 10, end: 10 }], span, 5, null)).toEqual({ at: 0, edge: 'end' });
  });

  it('knows what is caught of visits in any order and of any kind', () => {
    const visit = (start: number, type: 'animal' | 'human') => ({ start, end: start + 1, type });
    const labels = {
      version: 1 as const,
      visits: [visit(9, 'animal'), visit(1, 'human'), visit(5, 'animal')],
    };
    const told = [5, 9].map((start) => ({ start, end: start + 1, caught: start === 9 }));
    expect(caughtOf(labels, { visits: told })).toEqual([true, null, false]);
    expect(caughtOf(labels, { visits: told.slice(1) })).toEqual([null, null, null]);
  });
});

describe('playing', () => {
  const times = [0, 0.2, 0.4, 2, 2.2];
  const all = () => true;

  it('goes by the times of the frames, over a gap too', () => {
    expect(paced({ frame: 0, time: 0 }, 0.45, times, 1, all)).toEqual({ frame: 2, time: 0.45 });
    expect(paced({ frame: 2, time: 0.45 }, 1, times, 1, all)).toEqual({ frame: 2, time: 1.45 });
  });

  it('stands still until a picture has come', () => {
    expect(paced({ frame: 0, time: 0 }, 0.45, times, 1, () => false)).toEqual({ frame: 0, time: 0 });
  });

  it('shows one in so many frames, and the last', () => {
    expect(paced({ frame: 0, time: 0 }, 0.3, times, 2, all).frame).toBe(0);
    expect(paced({ frame: 0, time: 0 }, 0.5, times, 2, all).frame).toBe(2);
    expect(paced({ frame: 0, time: 0 }, 9, times, 3, all).frame).toBe(4);
  });
});

describe('a box', () => {
  it('lies between two corners, within the frame', () => {
    expect(boxBetween({ x: 0.6, y: 1.2 }, { x: 0.2, y: 0.5 })).toEqual([0.2, 0.5, 0.4, 0.5]);
    expect(boxBetween({ x: 0.6, y: 0.6 }, { x: 0.6, y: 0.6 })).toBeNull();
  });

  it('stops at the edges', () => {
    expect(movedBox([0.5, 0.5, 0.4, 0.4], 0.3, -0.7)).toEqual([0.6, 0, 0.4, 0.4]);
    expect(widenedBox([0.5, 0.5, 0.4, 0.4], 0.3, -0.7)).toEqual([0.5, 0.5, 0.5, 0.01]);
  });
});
