import { expect, it } from 'vitest';
import { noCounts } from '../../../src/score/score.js';
import { clipsBySite } from '../../../src/workbench/page/views/answer/clips-of-site.js';
import { frontLayout, nearestTo } from '../../../src/workbench/page/views/dials/front-layout.js';
import { heldAgainst } from '../../../src/workbench/page/views/dials/held-against.js';
import { lastUpTo } from '../../../src/workbench/page/views/dials/last-up-to.js';
import { inSight, photosOf } from '../../../src/workbench/page/views/dials/photos.js';
import type { Replayed } from '../../../src/workbench/page/worker/replay.js';

/** A replay of which each visit was caught or not, with so many false triggers. */
function replayOf(caught: boolean[], falseTriggers: number): Replayed {
  return {
    triggers: [],
    visits: caught.map((is, i) => ({ start: 10 * i, end: 10 * i + 2, name: `visit ${i}`, caught: is })),
    counts: { ...noCounts, falseTriggers },
    score: {} as Replayed['score'],
  };
}

it('photos stand in order of time with the name of the visit, up to the end of the clip', () => {
  const photos = photosOf(
    {
      ...replayOf([true], 1),
      triggers: [
        { time: 1, photos: [1.5, 9], verdict: 'true', visit: 0 },
        { time: 4, photos: [4.5, 21], verdict: 'false', visit: null },
      ],
    },
    20,
  );
  expect(photos.map(({ time, word }) => [time, word])).toEqual([
    [1.5, 'visit 0'],
    [4.5, 'nothing'],
    [9, 'visit 0'],
  ]);
});

it('only photos in sight are drawn, and some on either side', () => {
  expect(inSight(1000, 100, 0, 350)).toEqual({ from: 0, to: 6 });
  expect(inSight(1000, 100, 5000, 350)).toEqual({ from: 48, to: 56 });
  expect(inSight(1000, 100, 99_800, 350)).toEqual({ from: 996, to: 1000 });
  expect(inSight(0, 100, 0, 350)).toEqual({ from: 0, to: 0 });
});

it('two groups of settings are held against each other visit by visit', () => {
  const against = heldAgainst(replayOf([true, false, true], 2), replayOf([false, true, true], 5));
  expect(against?.gained.map(({ name }) => name)).toEqual(['visit 0']);
  expect(against?.lost.map(({ name }) => name)).toEqual(['visit 1']);
  expect(against?.balance).toEqual({ gained: 1, lost: 1, nothing: -3 });
});

it('replays of other labels, or of none, are not held against each other', () => {
  expect(heldAgainst(replayOf([true], 0), replayOf([true, false], 0))).toBeNull();
  expect(heldAgainst({ ...replayOf([], 0), counts: null }, replayOf([], 0))).toBeNull();
});

it('the front has room for none and for very many false triggers', () => {
  const { x, y, ticks } = frontLayout(5000);
  const across = [0, 1, 100, 5000].map(x);
  expect(across.toSorted((a, b) => a - b)).toEqual(across);
  expect(new Set(across).size).toBe(4);
  expect(y(1)).toBeLessThan(y(0));
  expect(ticks.map(({ text }) => text)).toEqual(['0', '1', '3', '10', '30', '100', '300', '1k', '3k']);
});

it('a place in it leads to the nearest point', () => {
  const places = [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 9 },
  ];
  expect([nearestTo(places, { x: 2, y: 3 }), nearestTo(places, { x: 8, y: 7 })]).toEqual([0, 2]);
});

it('of the frames that a camera looks at, the last up to one is found', () => {
  const looked = [0, 5, 10];
  expect([0, 4, 5, 9, 10, 99].map((frame) => lastUpTo(looked, frame))).toEqual([0, 0, 1, 1, 2, 2]);
});

it('clips are asked about by site, those without labels apart', () => {
  const clip = (name: string, site: string | null, visits: number | null, problem: string | null = null) => ({
    id: name,
    name,
    site,
    title: null,
    visits,
    problem,
  });
  const clips = [
    clip('a', 'pond', 3),
    clip('b', null, null),
    clip('c', 'pond', null),
    clip('d', 'pond', null, 'broken'),
    clip('e', 'pond', 0),
  ];
  expect(
    clipsBySite(clips, false).map(({ site, labelled, left }) => [
      site,
      labelled.map(({ name }) => name),
      left.map(({ name, why }) => `${name} ${why}`),
    ]),
  ).toEqual([
    ['pond', ['a', 'e'], ['c not labelled yet', 'd cannot be opened']],
    [null, [], ['b not labelled yet']],
  ]);
  // The demo's labels come with the drawing.
  expect(clipsBySite(clips, true)[0]!.labelled.map(({ name }) => name)).toEqual(['a', 'c', 'e']);
});
