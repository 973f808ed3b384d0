import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { noCounts } from '../../src/score/score.js';
import { wordsFor } from '../../src/sweep/bits.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';
import { tuneSite } from '../../src/tune/tune.js';
import { visits } from './swept.js';

/** One dial that matters: how much of the picture may change. */
const grid = new Grid(
  cameraSchema.parse({
    version: 1,
    analysis: { width: 20, height: 10, rate: 5 },
    reference: { kind: 'previous' },
    controls: {
      sensitivity: { sets: 'threshold', choices: [20] },
      small: { sets: 'minimumArea', choices: [4] },
      most: { sets: 'mostChanged', choices: [50, 100, 200] },
      pause: { sets: 'cooldown', choices: [5] },
    },
  }),
);
const truth = visits(10);

/** An hour in which each setting fires falsely so often. */
function fired(...falseTriggers: number[]): SweepCounts {
  const counts = new SweepCounts(grid.size, truth);
  falseTriggers.forEach((n, setting) => {
    counts.set(setting, { ...noCounts, falseTriggers: n }, new Uint32Array(wordsFor(truth.visits.length)));
  });
  return counts;
}

it('tells of simulated weather how often it would fire if mostChanged held nothing back', () => {
  const calm = { clip: 'a', conditions: ['calm' as const], simulated: false, blocks: [] };
  const sweeps = [4, 6].map((strength, i) => ({
    condition: 'wind' as const,
    strength,
    clip: 'a',
    counts: i === 0 ? fired(300, 300, 310) : fired(20, 40, 360),
  }));
  const sample = { start: 0, end: 3600 };
  const simulated = { clip: 'a', sweeps, sample, visits: 10, assumed: [], defaults: [], motionless: false };
  // In calm the least of it fires least: 50.
  const { byCondition, recommended } = tuneSite(
    null,
    [{ ...calm, whole: fired(0, 50, 90) }],
    grid,
    { kind: 'worth', photos: 10, photosPerTrigger: 2 },
    [simulated],
  );
  expect(recommended.controls).toMatchObject({ most: 50 });
  const wind = byCondition.find(({ condition }) => condition === 'wind');
  expect(wind?.choice).toBeNull();
  const told = wind?.strengths?.map(({ falsePerHour, unheldPerHour }) => [falsePerHour, unheldPerHour]);
  const hours = truth.watchedSeconds / 3600;
  expect(told).toEqual([
    [300 / hours, 310 / hours],
    [20 / hours, 360 / hours],
  ]);
});
