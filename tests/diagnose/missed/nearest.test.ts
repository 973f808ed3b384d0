import { expect, it } from 'vitest';
import { nearestCatching, type Tried } from '../../../src/diagnose/missed/nearest.js';
import { judgeAll } from '../../../src/score/replayed.js';
import { truthOf } from '../../../src/score/truth.js';
import { camera, settings } from '../made.js';

/** A wren that is missed, a moorhen and a starling that are caught. */
const visits = [10, 20, 30].map((start) => ({ start, end: start + 2, type: 'animal' as const }));
const judged = judgeAll([21, 31], (time) => [time], truthOf({ version: 1, visits }, 60));
const cases = [{ camera, settings, judged }];

/** Settings by how many notches they lie away, with the visits that they catch. */
const tried = (...all: { notches: number; cooldown: number; catches: number[] }[]): Tried => ({
  size: all.length,
  settingsAt: (setting) => ({ ...settings, cooldown: all[setting]!.cooldown }),
  apartAt: (setting) => ({ notches: all[setting]!.notches, dials: 1 }),
  counts: [
    {
      falseTriggers: new Uint32Array(all.length),
      caughtVisit: (setting, visit) => all[setting]!.catches.includes(visit),
    },
  ],
});

it('of what would have caught a visit that is taken which loses no other, though it lies farther away', () => {
  const all = tried(
    { notches: 1, cooldown: 30, catches: [0] },
    { notches: 3, cooldown: 1, catches: [0, 1, 2] },
    { notches: 2, cooldown: 2, catches: [0, 1, 2] },
    { notches: 1, cooldown: 60, catches: [0, 2] },
  );
  expect(nearestCatching(cases, all, { clip: 0, visit: 0 })).toMatchObject({
    settings: { cooldown: 2 },
    visitsGained: 1,
    visitsLost: 0,
  });
});

it('where all that catches it loses others, the nearest is told with what it loses', () => {
  const all = tried(
    { notches: 2, cooldown: 60, catches: [0, 1] },
    { notches: 1, cooldown: 30, catches: [0] },
  );
  expect(nearestCatching(cases, all, { clip: 0, visit: 0 })).toMatchObject({
    settings: { cooldown: 30 },
    visitsGained: 1,
    visitsLost: 2,
  });
});
