import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { Grid } from '../../src/sweep/grid.js';
import { middleOfPlateau } from '../../src/tune/plateau.js';

/** Ten, two and three positions. */
const grid = new Grid(
  cameraSchema.parse({
    version: 1,
    analysis: { width: 20, height: 10, rate: 5 },
    reference: { kind: 'previous' },
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 10, step: 1, gives: [80, 8] },
      small: { sets: 'minimumArea', choices: [1, 2] },
      steady: { sets: 'persistence', choices: [1, 2, 3] },
      pause: { sets: 'cooldown', choices: [5] },
    },
  }),
);
const worth = (of: (sensitivity: number, small: number, steady: number) => number) =>
  Float64Array.from({ length: grid.size }, (_, i) =>
    of(grid.placeOf(i, 0), grid.placeOf(i, 1), grid.placeOf(i, 2)),
  );
const middle = (of: Parameters<typeof worth>[0]) => {
  const setting = middleOfPlateau(worth(of), grid);
  return [0, 1, 2].map((d) => grid.placeOf(setting, d));
};

it('is the middle of a long dial though a short one is level at its end only', () => {
  expect(middle((a, _, c) => (a >= 3 && a <= 7 && c === 0 ? 1 : 0))).toEqual([5, 0, 0]);
});

it('is the middle of a dial that a dial of two positions crosses', () => {
  expect(middle((a, b) => (a <= 4 && b === 1 ? 1 : 0))).toEqual([2, 1, 1]);
});

it('keeps away from an edge by shares of the dial, not by notches', () => {
  // Where steady is 1 the plateau is narrow: two places of ten. Elsewhere it is wide.
  const setting = middle((a, _, c) => (c === 0 ? Number(a === 8 || a === 9) : Number(a >= 1 && a <= 6)));
  expect(setting[2]).toBeGreaterThan(0);
  expect([3, 4]).toContain(setting[0]);
});

it('is the lone best where there is no plateau', () => {
  expect(middle((a, b, c) => (a === 9 && b === 1 && c === 2 ? 1 : 0))).toEqual([9, 1, 2]);
});

it('is the middle of 200,000 settings that are all alike', () => {
  const whole = (sets: string, to: number) => ({ sets, from: 1, to, step: 1, gives: [1, to] });
  const wide = new Grid(
    cameraSchema.parse({
      version: 1,
      analysis: { width: 320, height: 240, rate: 5 },
      reference: { kind: 'previous' },
      controls: {
        grey: whole('threshold', 250),
        pause: whole('cooldown', 20),
        small: whole('minimumArea', 20),
        row: whole('persistence', 2),
      },
    }),
  );
  expect(wide.size).toBe(200_000);
  const setting = middleOfPlateau(new Float64Array(wide.size).fill(1), wide);
  expect([124, 125]).toContain(wide.placeOf(setting, 0));
  expect([9, 10]).toContain(wide.placeOf(setting, 1));
});
