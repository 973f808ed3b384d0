import { describe, expect, it } from 'vitest';
import type { Labels } from '../../../src/score/labels.js';
import { changed, rebased, redone, startedWith, undone } from '../../../src/workbench/page/state/history.js';
import {
  anew,
  begin,
  emptyLabels,
  end,
  lookedThrough,
  moveEdge,
  neighbour,
  remove,
  sayOfVisit,
} from '../../../src/workbench/page/state/sheet.js';
import { overview } from '../../../src/workbench/page/views/label/overview.js';

const animal = (start: number, to: number) => ({ start, end: to, type: 'animal' as const });
const two: Labels = { version: 1, visits: [animal(1, 2), animal(5, 6)] };

describe('marking', () => {
  it('puts what begins in its order, and ends it where it is ended', () => {
    const { sheet, at } = begin({ labels: two, begun: {} }, 'visits', 3);
    expect(at).toBe(1);
    expect(end(sheet, 'visits', 4)).toEqual({
      labels: { version: 1, visits: [animal(1, 2), animal(3, 4), animal(5, 6)] },
      begun: {},
    });
  });

  it('turns round what was ended before it began', () => {
    const { sheet } = begin({ labels: emptyLabels, begun: {} }, 'ignored', 3);
    expect(end(sheet, 'ignored', 1).labels.ignored).toEqual([{ start: 1, end: 3 }]);
  });

  it('moves an end up to the other and no further', () => {
    expect(moveEdge(two, { kind: 'visits', at: 0 }, 'start', 9).visits[0]).toEqual(animal(2, 2));
    expect(moveEdge(two, { kind: 'visits', at: 1 }, 'end', 0).visits[1]).toEqual(animal(5, 5));
  });

  it('keeps hold of what has begun when something before it is deleted', () => {
    const { sheet } = begin({ labels: two, begun: {} }, 'visits', 7);
    expect(remove(sheet, { kind: 'visits', at: 0 }).begun).toEqual({ visits: 1 });
    expect(remove(sheet, { kind: 'visits', at: 2 })).toEqual({ labels: two, begun: {} });
  });

  it('says and unsays', () => {
    const named = sayOfVisit(two, 0, { name: 'wren', count: 2 });
    expect(named.visits[0]).toEqual({ ...animal(1, 2), name: 'wren', count: 2 });
    expect(sayOfVisit(named, 0, { name: undefined, count: undefined })).toEqual(two);
  });

  it('begun anew keeps what is said of the place and of causes', () => {
    const place: Labels = { ...two, causes: [{ start: 0, end: 1, cause: 'wind' }], foliage: [] };
    expect(anew({ ...place, reviewed: [], ignored: [] })).toEqual({ ...place, visits: [] });
  });

  it('finds the visit before and after', () => {
    expect(neighbour(two, 'visits', 1, 1)).toBe(1);
    expect(neighbour(two, 'visits', 5, -1)).toBe(0);
    expect(neighbour(two, 'visits', 5, 1)).toBeNull();
  });

  it('tells what is labelled', () => {
    expect(overview(two, 330)).toBe('2 visits, 5:30 of 5:30 looked through');
    const part: Labels = {
      version: 1,
      visits: [{ ...animal(0, 1), type: 'human' }],
      reviewed: [
        { start: 0, end: 60 },
        { start: 30, end: 90 },
      ],
    };
    expect(lookedThrough(part, 330)).toBe(90);
    expect(overview(part, 330)).toBe(
      '0 visits, 1:30 of 5:30 looked through; 1 time somebody else than an animal',
    );
  });
});

describe('the way back', () => {
  const sheet = (visits: number) => ({
    labels: { version: 1 as const, visits: Array.from({ length: visits }, (_, i) => animal(i, i)) },
    begun: {},
  });
  const long = Array.from({ length: 20_000 }, (_, i) => i + 1).reduce(
    (history, n) => changed(history, `step ${n}`, sheet(n % 50)),
    startedWith(sheet(0).labels),
  );

  it('has no end, and leads forward again', () => {
    let history = long;
    while (history.past) history = undone(history);
    expect(history.now).toEqual(sheet(0));
    while (history.future) history = redone(history);
    expect(history.now).toEqual(long.now);
    expect(history.past?.what).toBe('step 20000');
  });

  it('undoes what was typed in one go as one', () => {
    const typed = ['w', 'wr', 'wre'].reduce(
      (history, name) => changed(history, name, { labels: sayOfVisit(two, 0, { name }), begun: {} }, 'go 1'),
      startedWith(two),
    );
    expect(undone(typed)).toMatchObject({ now: { labels: two }, past: null });
  });

  it('ends at what was undone once something else is done', () => {
    const other = changed(undone(long), 'other', sheet(1));
    expect(redone(other)).toBe(other);
  });

  it('stands on other ground at every step, however many', () => {
    const on = rebased(long, ({ labels, begun }) => ({ labels: { ...labels, foliage: [] }, begun }));
    expect(undone(undone(on)).now.labels.foliage).toEqual([]);
  });
});
