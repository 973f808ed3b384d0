import { beforeAll, beforeEach, expect, it, vi } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import type { Asked } from '../../../src/tune/moments/ask.js';
import type { ClipOpened } from '../../../src/workbench/protocol.js';

/** The page's own modules, where nothing answers. */
async function page() {
  const [clips, labels, sheet, { asked }, { workspace }] = await Promise.all([
    import('../../../src/workbench/page/state/clip.js'),
    import('../../../src/workbench/page/state/labels.js'),
    import('../../../src/workbench/page/views/moments/sheet.js'),
    import('../../../src/workbench/page/views/moments/asked.js'),
    import('../../../src/workbench/page/state/workspace.js'),
  ]);
  return { ...clips, ...labels, ...sheet, asked, workspace };
}

let own: Awaited<ReturnType<typeof page>>;
let clips = 0;

beforeAll(async () => {
  vi.stubGlobal('window', { clearTimeout: () => undefined, setTimeout: () => 0 });
  vi.stubGlobal('document', { hidden: true });
  vi.stubGlobal('fetch', () => new Promise(() => undefined));
  own = await page();
  own.workspace.value = { camera: defaultCamera } as unknown as typeof own.workspace.value;
  return () => vi.unstubAllGlobals();
});

/** Seconds at which something stirs for two, as of a windy hour; the first four are alike and one question. */
const STIRS = [0.5, 10, 20, 28, 33, 50];
const ROWS = [[0, 1, 2, 3], [4], [5]];

beforeEach(() => {
  const id = `answered ${++clips}`;
  const state = { labels: { version: 1 as const, visits: [], reviewed: [] }, revision: 'r', file: id };
  const times = Array.from({ length: 60 }, (_, k) => k);
  own.clip.value = { id, times, seconds: 60, rate: 1, labels: state } as unknown as ClipOpened;
  own.takeLabels(id, state);
  const moments = STIRS.map((start) => ({ start, end: start + 2 }));
  const rows = ROWS.map((members) => ({ members }));
  own.asked.value = { clip: id, moments, rows, order: [0, 1, 2] } as unknown as Asked & { clip: string };
  own.layOut();
});

const visits = () => own.labels.value.visits.map(({ start, end }) => [start, end]);

it('asks of each picture by itself where one of four alike shows an animal, and marks no more than that one', () => {
  own.answer('animal');
  expect(visits()).toEqual([]);
  expect(own.sheet.value).toEqual([[0], [1], [2], [3], [4], [5]]);
  expect(own.parted.value).toBe(4);
  own.tick([2]);
  own.answer('animal');
  expect(visits()).toEqual([[19.5, 22.5]]);
  expect(own.joinsNow()).toEqual([]);
  // The other three are still open.
  own.layOut();
  expect(own.sheet.value).toEqual([[0], [1], [3], [4], [5]]);
});

it('takes nothing for an answer to all four', () => {
  own.answer('nothing');
  own.layOut();
  expect(own.sheet.value).toEqual([[4], [5]]);
});

it('takes only those of several alike apart that are ticked, and leaves single ones ticked', () => {
  own.tick([0, 1, 2, 3]);
  own.tick([5]);
  own.answer('person');
  expect([...own.ticked.value]).toEqual([5]);
  expect(visits()).toEqual([]);
});

it('says how long a visit becomes that is made of two moments, and keeps them apart where that is wished', () => {
  own.takeApart();
  own.tick([3]);
  own.tick([4]);
  own.answer('animal');
  expect(visits()).toEqual([[27.5, 35.5]]);
  expect(own.joinsNow()).toEqual([{ start: 27.5, end: 35.5, of: 2 }]);
  own.keepApart();
  expect(visits()).toEqual([
    [27.5, 30.5],
    [32.5, 35.5],
  ]);
  // It is one step still.
  own.undo();
  expect(visits()).toEqual([]);
});
