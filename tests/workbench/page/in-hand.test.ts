import { beforeAll, beforeEach, expect, it, vi } from 'vitest';
import type { Labels } from '../../../src/score/labels.js';
import type { ClipOpened } from '../../../src/workbench/protocol.js';

/** The page's own modules, where nothing answers. */
async function page() {
  const [clips, labels, chosen, actions, drawing, take, quiet, replays, visits] = await Promise.all([
    import('../../../src/workbench/page/state/clip.js'),
    import('../../../src/workbench/page/state/labels.js'),
    import('../../../src/workbench/page/state/chosen.js'),
    import('../../../src/workbench/page/views/label/actions.js'),
    import('../../../src/workbench/page/views/mask/drawing.js'),
    import('../../../src/workbench/page/views/why/take.js'),
    import('../../../src/workbench/page/views/moments/ticks.js'),
    import('../../../src/workbench/page/state/replays.js'),
    import('../../../src/tune/moments/visits.js'),
  ]);
  return { ...clips, ...labels, ...chosen, ...actions, drawing, take, quiet, ...replays, ...visits };
}

let own: Awaited<ReturnType<typeof page>>;
let clips = 0;
const never = () => new Promise(() => undefined);

beforeAll(async () => {
  vi.stubGlobal('window', { clearTimeout: () => undefined, setTimeout: () => 0 });
  vi.stubGlobal('document', { hidden: true });
  own = await page();
  return () => vi.unstubAllGlobals();
});
beforeEach(() => {
  vi.stubGlobal('fetch', never);
});

/** Opens a clip of a minute that no other test opened, one frame a second. */
function open(labels: Labels | null): string {
  const id = `clip ${++clips}`;
  return back(id, labels);
}

function back(id: string, labels: Labels | null): string {
  const state = { labels, revision: labels ? 'r' : '', file: id };
  const times = Array.from({ length: 60 }, (_, k) => k);
  own.frame.value = 0;
  own.clip.value = { id, times, seconds: 60, rate: 1, labels: state } as unknown as ClipOpened;
  own.takeLabels(id, state);
  return id;
}

const visit = (start: number, end: number, rest: object = {}) => ({
  start,
  end,
  type: 'animal' as const,
  ...rest,
});
const of = (...visits: ReturnType<typeof visit>[]): Labels => ({ version: 1, visits });
const mask = (x: number): [number, number][][] => [
  [
    [x, 0],
    [1, 0],
    [x, 0.1],
  ],
];
const markAt = (frame: number) => {
  own.frame.value = frame;
  own.mark('visits');
};

it('the first mark taken back leaves a clip of which nothing is said', () => {
  open(null);
  expect(own.said.value).toBeNull();
  markAt(3);
  markAt(5);
  expect(own.said.value?.visits).toHaveLength(1);
  own.undo();
  own.undo();
  expect(own.said.value).toBeNull();
  expect(own.labels.value).toEqual({ version: 1, reviewed: [], visits: [] });
});

it('a mask drawn first says nothing of visits, and not that all was looked through', () => {
  open(null);
  own.change('a mask', (now) => ({ ...now, mask: mask(0.2) }));
  expect(own.said.value).toBeNull();
  expect(own.labels.value.reviewed).toEqual([]);
});

it('what was stepped through counts as looked through with the first mark, and goes on counting', () => {
  open(null);
  for (let i = 0; i < 4; i++) own.stepLooking(1);
  markAt(20);
  markAt(22);
  own.stepLooking(1);
  expect(own.labels.value.reviewed).toEqual([
    { start: 0, end: 4 },
    { start: 20, end: 23 },
  ]);
});

it('a visit that has begun is ended where it began, whatever was answered in Moments meanwhile', () => {
  open(of());
  markAt(30);
  own.change('a moment called animal', (now) => own.withFound(now, [], [visit(5, 7)], 'animal'));
  markAt(35);
  expect(own.labels.value.visits).toEqual([visit(5, 7), visit(30, 35)]);
});

it('what is chosen stays chosen when a moment comes before it', () => {
  open(of(visit(30, 31, { name: 'chosen' })));
  own.choose({ kind: 'visits', at: 0 });
  own.change('a moment called animal', (now) => own.withFound(now, [], [visit(1, 2)], 'animal'));
  own.removeChosen();
  expect(own.labels.value.visits).toEqual([visit(1, 2)]);
});

it('what is chosen in one clip is not in another', () => {
  const first = open(of(visit(0, 1)));
  own.choose({ kind: 'visits', at: 0 });
  open(of(visit(2, 3)));
  own.removeChosen();
  expect(own.labels.value.visits).toEqual([visit(2, 3)]);
  back(first, of(visit(0, 1)));
  expect(own.chosen.value).toEqual({ kind: 'visits', at: 0 });
});

it('what was taken over in one clip is not taken back in another', () => {
  open(of());
  own.take.take({ words: 'Put this mask on', dials: {}, mask: mask(0.2) });
  open({ ...of(), mask: mask(0.7) });
  own.take.takeBack();
  expect(own.labels.value.mask).toEqual(mask(0.7));
});

it('a half-drawn mask stays with its clip', () => {
  const first = open(of());
  own.drawing.begin('mask');
  for (const [x, y] of mask(0.2)[0]!) own.drawing.corner([x, y]);
  open(of());
  own.drawing.close();
  expect(own.labels.value.mask).toBeUndefined();
  back(first, of());
  own.drawing.close();
  expect(own.labels.value.mask).toEqual(mask(0.2));
});

it('ticks of a quiet stretch are of that stretch of that clip, and are not overruled by a key', () => {
  const stretch = { start: 10, end: 12 };
  open(of());
  own.quiet.tick(stretch, 10.5, true);
  own.quiet.looked(stretch, 'nothing');
  expect(own.labels.value.visits).toEqual([]);
  expect(own.quiet.tickedOf({ start: 20, end: 22 }).size).toBe(0);
  open(of());
  expect(own.quiet.tickedOf(stretch).size).toBe(0);
});
