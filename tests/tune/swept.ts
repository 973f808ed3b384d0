import { cameraSchema } from '../../src/camera/description.js';
import { noCounts } from '../../src/score/score.js';
import { type Truth, truthOf } from '../../src/score/truth.js';
import { setBit, wordsFor } from '../../src/sweep/bits.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';

/** Five settings, ever more sensitive. */
export const grid = new Grid(
  cameraSchema.parse({
    version: 1,
    analysis: { width: 20, height: 10, rate: 5 },
    reference: { kind: 'previous' },
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [50, 10] },
      small: { sets: 'minimumArea', choices: [4] },
      pause: { sets: 'cooldown', choices: [5] },
    },
  }),
);
export const allowance = { kind: 'allowance', falsePerHour: 6 } as const;
export const visits = (n: number): Truth =>
  truthOf(
    {
      version: 1,
      visits: Array.from({ length: n }, (_, i) => ({
        start: 2 * i,
        end: 2 * i + 1,
        type: 'animal' as const,
      })),
    },
    3600 + n,
  );

/** An hour in which setting s catches the first caught[s] visits and fires falsely so often. */
export function swept(truth: Truth, caught: number[], falseTriggers: number[]): SweepCounts {
  const counts = new SweepCounts(grid.size, truth);
  caught.forEach((n, setting) => {
    const bits = new Uint32Array(wordsFor(truth.visits.length));
    for (let visit = 0; visit < n; visit++) setBit(bits, visit);
    counts.set(setting, { ...noCounts, caught: n, falseTriggers: falseTriggers[setting]! }, bits);
  });
  return counts;
}
