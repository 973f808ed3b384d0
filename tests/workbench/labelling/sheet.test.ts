import { describe, expect, it } from 'vitest';
import { type Labels, labelsSchema } from '../../../src/score/labels.js';
import { truthOf } from '../../../src/score/truth.js';
import { withFound } from '../../../src/tune/moments/visits.js';
import { changed, rebased, redone, startedWith, undone } from '../../../src/workbench/page/state/history.js';
import { isLess, withSeen } from '../../../src/workbench/page/state/seen.js';
import {
  anew,
  begin,
  begunIn,
  end,
  followed,
  freshLabels,
  letGo,
  lookedThrough,
  moveEdge,
  neighbour,
  remove,
  sayOfVisit,
} from '../../../src/workbench/page/state/sheet.js';
import { overview } from '../../../src/workbench/page/views/label/overview.js';

const animal = (start: number, to: number) => ({ start, end: to, type: 'animal' as const });
const two: Labels = { version: 1, visits: [animal(1, 2), animal(5, 6)] };

const begunAt = (time: number) => begin(two, 'visits', time);

describe('marking', () => {
  it('puts what is ended in its order, from where it began', () => {
    const ended = end(begunAt(3), 'visits', 4);
    expect(ended).toEqual({
      labels: { version: 1, visits: [animal(1, 2), animal(3, 4), animal(5, 6)] },
      at: 1,
    });
    expect(end(two, 'visits', 4)).toBeNull();
  });

  it('counts what has begun for nothing until it is ended, and finds it again in a file', () => {
    const begun = begunAt(3);
    expect(begun.visits).toEqual(two.visits);
    expect(truthOf(begun, 10).watchedSeconds).toBe(truthOf(two, 10).watchedSeconds);
    const read = labelsSchema.parse(JSON.parse(JSON.stringify(begun)));
    expect(begunIn(read)).toEqual({ visits: 3 });
    expect(letGo(read, 'visits')).toEqual(two);
  });

  it('turns round what was ended before it began', () => {
    const begun = begin(freshLabels, 'ignored', 3);
    expect(end(begun, 'ignored', 1)?.labels.ignored).toEqual([{ start: 1, end: 3 }]);
  });

  it('moves an end up to the other and no further', () => {
    expect(moveEdge(two, { kind: 'visits', at: 0 }, 'start', 9).visits[0]).toEqual(animal(2, 2));
    expect(moveEdge(two, { kind: 'visits', at: 1 }, 'end', 0).visits[1]).toEqual(animal(5, 5));
  });

  it('ends the visit that began, whatever was put before it meanwhile', () => {
    const found = withFound(begin(freshLabels, 'visits', 30), [animal(5, 7)], [animal(5, 7)], 'animal');
    expect(end(found, 'visits', 35)?.labels.visits).toEqual([animal(5, 7), animal(30, 35)]);
  });

  it('keeps hold of what is chosen while others come, go and are changed', () => {
    const second = { kind: 'visits' as const, at: 1 };
    expect(followed(second, two, withFound(two, [], [animal(20, 21), animal(-9, -8)], 'animal'))).toEqual({
      kind: 'visits',
      at: 2,
    });
    expect(followed(second, two, remove(two, { kind: 'visits', at: 0 }))).toEqual({ kind: 'visits', at: 0 });
    expect(followed(second, two, moveEdge(two, second, 'end', 9))).toEqual(second);
    expect(followed(second, two, remove(two, second))).toBeNull();
  });

  it('says and unsays', () => {
    const named = sayOfVisit(two, 0, { name: 'wren', count: 2 });
    expect(named.visits[0]).toEqual({ ...animal(1, 2), name: 'wren', count: 2 });
    expect(sayOfVisit(named, 0, { name: undefined, count: undefined })).toEqual(two);
  });

  it('begun anew keeps what is said of the place and of causes', () => {
    const place: Labels = { ...two, causes: [{ start: 0, end: 1, cause: 'wind' }], foliage: [] };
    expect(anew({ ...place, ignored: [] })).toEqual({ ...place, reviewed: [], visits: [] });
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

describe('what was looked through', () => {
  const seen = [{ start: 0, end: 8 }];

  it('is said with the first mark and not before, and never where all was', () => {
    expect(withSeen(freshLabels, seen)).toBe(freshLabels);
    expect(withSeen(two, seen)).toBe(two);
    const first = { ...freshLabels, visits: [animal(5, 6)] };
    expect(withSeen(first, seen).reviewed).toEqual(seen);
    const more = { ...first, reviewed: [{ start: 4, end: 9 }] };
    expect(withSeen(more, seen).reviewed).toEqual([{ start: 0, end: 9 }]);
  });

  it('is less where a part is taken away, and not where one is added', () => {
    expect(isLess([{ start: 0, end: 7 }], seen)).toBe(true);
    expect(isLess([{ start: 0, end: 9 }], seen)).toBe(false);
    expect(isLess([], undefined)).toBe(true);
    expect(isLess(undefined, seen)).toBe(false);
  });
});

describe('the way back', () => {
  const sheet = (visits: number): Labels => ({
    version: 1,
    visits: Array.from({ length: visits }, (_, i) => animal(i, i)),
  });
  const long = Array.from({ length: 20_000 }, (_, i) => i + 1).reduce(
    (history, n) => changed(history, `step ${n}`, sheet(n % 50)),
    startedWith(sheet(0)),
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
      (history, name) => changed(history, name, sayOfVisit(two, 0, { name }), 'go 1'),
      startedWith(two),
    );
    expect(undone(typed)).toMatchObject({ now: two, past: null });
  });

  it('ends at what was undone once something else is done', () => {
    const other = changed(undone(long), 'other', sheet(1));
    expect(redone(other)).toBe(other);
  });

  it('stands on other ground at every step, however many', () => {
    const on = rebased(long, (labels) => ({ ...labels, foliage: [] }));
    expect(undone(undone(on)).now.foliage).toEqual([]);
  });
});
