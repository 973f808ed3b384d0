import { expect, it } from 'vitest';
import type { Labels } from '../../../src/score/labels.js';
import { Changed, type Saved, Saver, type Unsaved } from '../../../src/workbench/page/state/saver.js';
import type { LabelsState } from '../../../src/workbench/protocol.js';

const visits = (...starts: number[]): Labels => ({
  version: 1,
  visits: starts.map((start) => ({ start, end: start + 1, type: 'animal' })),
});

/** A disk that answers when it is let, and what the page says. */
function bench(start: Labels) {
  const disk = { labels: start, revision: '0' };
  const state = (): LabelsState => ({ ...disk, file: 'f' });
  const waiting: (() => void)[] = [];
  const told: Saved[] = [];
  const puts: Labels[] = [];
  const page = { mine: start, kept: null as Unsaved | null, down: false, paused: 0 };
  const reads: (() => void)[] = [];
  let isLate = false;
  const saver = new Saver(state(), {
    put: (labels, base) =>
      new Promise((done, fail) => {
        puts.push(labels);
        waiting.push(() => {
          if (page.down) return fail(new Error('the server does not answer'));
          if (base !== disk.revision) return fail(new Changed(state()));
          Object.assign(disk, { labels, revision: String(Number(disk.revision) + 1) });
          done(state());
        });
      }),
    get: () => {
      const read = state();
      return new Promise((done) => (isLate ? reads.push(() => done(read)) : done(read)));
    },
    pause: async () => {
      page.paused++;
    },
    keep: (unsaved) => {
      page.kept = unsaved;
    },
    tell: (saved) => told.push(saved),
    mine: () => page.mine,
    adopt: (merged) => {
      page.mine = merged;
    },
  });
  const settled = () => new Promise((done) => setImmediate(done));
  return {
    disk,
    page,
    puts,
    saver,
    told,
    /** Reads are answered only by `late`, with what was there when they were asked. */
    holdReads() {
      isLate = true;
    },
    late: () => reads.shift()!(),
    edit(labels: Labels) {
      page.mine = labels;
      saver.changed();
    },
    elsewhere(labels: Labels) {
      Object.assign(disk, { labels, revision: String(Number(disk.revision) + 100) });
    },
    /** Lets the server answer until nothing is asked of it any more. */
    async answer(times = Number.POSITIVE_INFINITY) {
      for (let i = 0; i < times && waiting.length > 0; i++) {
        waiting.shift()!();
        await settled();
      }
    },
  };
}

it('has one write in flight, and writes the latest next', async () => {
  const { edit, puts, answer, disk, page, told } = bench(visits());
  for (const labels of [visits(1), visits(1, 2), visits(1, 2, 3)]) edit(labels);
  expect(puts).toEqual([visits(1)]);
  expect(page.kept).toEqual({ base: visits(), labels: visits(1, 2, 3) });
  await answer();
  expect(puts).toEqual([visits(1), visits(1, 2, 3)]);
  expect(disk.labels).toEqual(visits(1, 2, 3));
  expect(page.kept).toBeNull();
  expect(told.at(-1)).toEqual({ kind: 'saved' });
});

it('says that the server does not answer, goes on, and saves when it is back', async () => {
  const { edit, answer, disk, page, told } = bench(visits());
  page.down = true;
  edit(visits(1));
  await answer(3);
  expect(told.at(-1)).toEqual({ kind: 'waiting', why: 'the server does not answer' });
  edit(visits(1, 2));
  page.down = false;
  await answer();
  expect(disk.labels).toEqual(visits(1, 2));
  expect(page.paused).toBe(3);
  expect(told.at(-1)).toEqual({ kind: 'saved' });
});

it('puts what was changed on disk meanwhile together with what was changed here', async () => {
  const { edit, answer, disk, page, elsewhere } = bench(visits(1));
  elsewhere(visits(1, 5));
  edit(visits(1, 3));
  await answer();
  expect(page.mine).toEqual(visits(1, 3, 5));
  expect(disk.labels).toEqual(visits(1, 3, 5));
});

it('notices a change on disk when it looks, and writes nothing for it', async () => {
  const { saver, page, puts, elsewhere } = bench(visits(1));
  elsewhere(visits(2));
  await saver.look();
  expect(page.mine).toEqual(visits(2));
  expect(puts).toEqual([]);
});

it.each([
  ['mine', [{ start: 1, end: 3, type: 'animal' }]],
  ['theirs', [{ start: 1, end: 4, type: 'animal' }]],
] as const)(
  'asks about the same visit changed in two ways, writes nothing, then writes %s',
  async (keep, left) => {
    const { edit, saver, answer, disk, puts, elsewhere, told } = bench(visits(1));
    const at = (end: number): Labels => ({ version: 1, visits: [{ start: 1, end, type: 'animal' }] });
    elsewhere(at(4));
    edit(at(3));
    await answer();
    const asked = told.at(-1)!;
    expect(asked.kind).toBe('asked');
    expect(disk.labels).toEqual(at(4));
    expect(puts).toHaveLength(1);
    if (asked.kind === 'asked') saver.settle(asked.conflict, keep);
    await answer();
    expect(disk.labels.visits).toEqual(left);
    expect(told.at(-1)).toEqual({ kind: 'saved' });
  },
);

it('loses no change that was made while it asked', async () => {
  const { edit, saver, answer, disk, elsewhere, told } = bench(visits(1));
  elsewhere({ version: 1, visits: [{ start: 1, end: 4, type: 'animal' }] });
  edit({ version: 1, visits: [] });
  await answer();
  edit(visits(7));
  const asked = told.at(-1)!;
  if (asked.kind === 'asked') saver.settle(asked.conflict, 'theirs');
  await answer();
  expect(disk.labels.visits).toEqual([
    { start: 1, end: 4, type: 'animal' },
    { start: 7, end: 8, type: 'animal' },
  ]);
});

it('writes labels again that were taken away, once something is changed', async () => {
  const { edit, saver, answer, disk, page } = bench(visits(1));
  Object.assign(disk, { labels: null, revision: '' });
  await saver.look();
  expect(page.mine).toEqual(visits(1));
  edit(visits(1, 2));
  await answer();
  expect(disk.labels).toEqual(visits(1, 2));
});

it('leaves alone what was read before its own write and comes after it', async () => {
  const { edit, saver, answer, disk, page, told, holdReads, late } = bench(visits());
  holdReads();
  const look = saver.look();
  edit(visits(1));
  await answer();
  late();
  await look;
  expect(page.mine).toEqual(visits(1));
  expect(disk.labels).toEqual(visits(1));
  expect(told.at(-1)).toEqual({ kind: 'saved' });
});

it('asks about what was left unsaved where it touches what was changed since', async () => {
  const at = (end: number): Labels => ({ version: 1, visits: [{ start: 1, end, type: 'animal' }] });
  const { saver, answer, disk, page, puts, told } = bench(at(4));
  page.mine = at(3);
  saver.contest(at(2), at(4));
  const asked = told.at(-1)!;
  expect(asked.kind).toBe('asked');
  expect(puts).toEqual([]);
  if (asked.kind === 'asked') saver.settle(asked.conflict, 'mine');
  await answer();
  expect(disk.labels).toEqual(at(3));
});
