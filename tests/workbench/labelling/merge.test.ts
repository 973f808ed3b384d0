import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Labels, Visit } from '../../../src/score/labels.js';
import { type Conflict, merge, sameLabels, settle } from '../../../src/workbench/page/state/merge.js';

const sheet = (visits: Visit[], rest: Partial<Labels> = {}): Labels => ({ version: 1, visits, ...rest });
const visit = (start: number, end: number, rest: Partial<Visit> = {}): Visit => ({
  start,
  end,
  type: 'animal',
  ...rest,
});

/** A visit somewhere within the ten seconds that belong to one place in the list. */
const visitIn = (slot: number) =>
  fc
    .record({
      from: fc.integer({ min: 0, max: 9 }),
      to: fc.integer({ min: 0, max: 9 }),
      type: fc.constantFrom('animal' as const, 'human' as const),
      name: fc.option(fc.constantFrom('wren', 'starling'), { nil: undefined }),
      count: fc.option(fc.integer({ min: 1, max: 3 }), { nil: undefined }),
    })
    .map(({ from, to, type, name, count }) => ({
      start: 10 * slot + Math.min(from, to),
      end: 10 * slot + Math.max(from, to),
      type,
      ...(name !== undefined && { name }),
      ...(count !== undefined && { count }),
    }));

const SLOTS = 6;
const slots = Array.from({ length: SLOTS }, (_, slot) => slot);
/** What stands in each place, or nothing. */
const places = fc.tuple(...slots.map((slot) => fc.option(visitIn(slot), { nil: null })));
const filled = (all: readonly (Visit | null)[]) => sheet(all.filter((one) => one !== null));
const texts = (entries: readonly object[]) =>
  entries.map((entry) => JSON.stringify(Object.entries(entry).sort())).sort();

describe('merging', () => {
  it('gives both edits where they touch different visits', () => {
    fc.assert(
      fc.property(
        places,
        places,
        fc.tuple(...slots.map(() => fc.constantFrom('mine', 'theirs', 'nobody'))),
        (base, edited, who) => {
          const by = (side: string) => base.map((one, slot) => (who[slot] === side ? edited[slot]! : one));
          const both = base.map((one, slot) => (who[slot] === 'nobody' ? one : edited[slot]!));
          const { labels, conflicts } = merge(filled(base), filled(by('mine')), filled(by('theirs')));
          expect(conflicts).toEqual([]);
          expect(texts(labels.visits)).toEqual(texts(filled(both).visits));
        },
      ),
    );
  });

  it('loses nothing of either side, whatever they did', () => {
    const any = fc.array(fc.nat({ max: 2 }).chain(visitIn), { maxLength: 6 }).map((visits) => sheet(visits));
    fc.assert(
      fc.property(any, any, any, (base, mine, theirs) => {
        const { labels, conflicts } = merge(base, mine, theirs);
        const [was, my, their] = [base, mine, theirs].map(({ visits }) => texts(visits)) as [
          string[],
          string[],
          string[],
        ];
        const asked = texts(conflicts.flatMap((one) => one.theirs as Visit[]));
        const merged = texts(labels.visits);
        for (const one of my) if (!was.includes(one)) expect(merged).toContain(one);
        for (const one of their) if (!was.includes(one)) expect([...merged, ...asked]).toContain(one);
        for (const one of was) if (my.includes(one) && their.includes(one)) expect(merged).toContain(one);
      }),
    );
  });

  it('finds no conflict again that was settled, and then holds what was chosen', () => {
    const any = fc.array(fc.nat({ max: 2 }).chain(visitIn), { maxLength: 5 }).map((visits) => sheet(visits));
    fc.assert(
      fc.property(any, any, any, fc.constantFrom('mine', 'theirs'), (base, mine, theirs, keep) => {
        const { conflicts } = merge(base, mine, theirs);
        const first = conflicts[0];
        fc.pre(first !== undefined);
        const settled = settle({ base, mine, theirs }, first as Conflict, keep as 'mine' | 'theirs');
        const again = merge(settled.base, settled.mine, settled.theirs);
        expect(again.conflicts).toHaveLength(conflicts.length - 1);
        const merged = texts(again.labels.visits);
        for (const one of texts((first as Conflict)[keep as 'mine' | 'theirs'] as Visit[])) {
          expect(merged).toContain(one);
        }
      }),
    );
  });

  it('is what the one side made of it where the other did nothing', () => {
    fc.assert(
      fc.property(places, places, (a, b) => {
        const [base, edited] = [filled(a), filled(b)];
        expect(sameLabels(merge(base, edited, base).labels, edited)).toBe(true);
        expect(texts(merge(base, base, edited).labels.visits)).toEqual(texts(edited.visits));
      }),
    );
  });

  it('asks where both moved an end of the same visit', () => {
    const [base, mine, theirs] = [visit(1, 3), visit(1, 4), visit(2, 3)];
    const { conflicts } = merge(sheet([base]), sheet([mine]), sheet([theirs]));
    expect(conflicts).toEqual([{ field: 'visits', was: [base], mine: [mine], theirs: [theirs] }]);
  });

  it('asks where one took a visit away that the other named', () => {
    const { conflicts } = merge(sheet([visit(1, 3)]), sheet([]), sheet([visit(1, 3, { name: 'wren' })]));
    expect(conflicts).toHaveLength(1);
  });

  it('asks nothing where both did the same', () => {
    const edited = sheet([visit(1, 4, { name: 'wren' })], { ignored: [{ start: 0, end: 1 }] });
    expect(merge(sheet([visit(1, 3)]), edited, edited)).toEqual({ labels: edited, conflicts: [] });
  });

  it('keeps apart that all was looked through and that nothing was', () => {
    const some = { reviewed: [{ start: 0, end: 9 }] };
    expect(merge(sheet([]), sheet([], some), sheet([])).labels.reviewed).toEqual(some.reviewed);
    expect(merge(sheet([], some), sheet([], some), sheet([])).labels.reviewed).toBeUndefined();
    expect(merge(sheet([], some), sheet([], { reviewed: [] }), sheet([])).conflicts).toHaveLength(1);
  });

  it('takes masks and foliage whole', () => {
    const mask = (x: number): Partial<Labels> => ({
      mask: [
        [
          [0, 0],
          [x, 0],
          [0, 1],
        ],
      ],
    });
    expect(merge(sheet([]), sheet([], mask(0.5)), sheet([])).labels.mask).toEqual(mask(0.5).mask);
    const both = merge(sheet([], mask(0.1)), sheet([], mask(0.5)), sheet([], mask(0.7)));
    expect(both.conflicts).toHaveLength(1);
    const settled = settle(
      { base: sheet([], mask(0.1)), mine: sheet([], mask(0.5)), theirs: sheet([], mask(0.7)) },
      both.conflicts[0]!,
      'theirs',
    );
    expect(merge(settled.base, settled.mine, settled.theirs)).toEqual({
      labels: sheet([], mask(0.7)),
      conflicts: [],
    });
  });
});
