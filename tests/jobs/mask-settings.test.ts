import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { photosFor } from '../../src/camera/timing.js';
import { type NotedParts, settingsToSearch, worthHidden } from '../../src/jobs/tune/mask-settings.js';
import { CELLS, COLUMNS } from '../../src/measure/pieces.js';
import type { Stirred } from '../../src/measure/stirring.js';
import { truthOf } from '../../src/score/truth.js';
import { Grid } from '../../src/sweep/grid.js';
import { outcomesAt } from '../../src/sweep/outcomes.js';

const camera = cameraSchema.parse({
  version: 1,
  analysis: { width: 160, height: 120, rate: 5 },
  reference: { kind: 'previous' },
  controls: {
    sensitivity: { sets: 'threshold', choices: [60, 30, 10] },
    minimumArea: { sets: 'minimumArea', choices: [20] },
    cooldown: { sets: 'cooldown', choices: [2] },
  },
});
const grid = new Grid(camera);
const goal = { kind: 'worth', photos: 10, photosPerTrigger: 2 } as const;

/** Ten minutes of a visit every 20 s, low on the right. */
const FRAMES = 3000;
const times = Float64Array.from({ length: FRAMES }, (_, k) => k / 5);
const box = [0.75, 0.7, 0.2, 0.2] as const;
const labels = {
  version: 1 as const,
  visits: Array.from({ length: 30 }, (_, i) => ({
    start: 20 * i + 10,
    end: 20 * i + 13,
    type: 'animal' as const,
    box: [...box] as [number, number, number, number],
  })),
};
const truth = truthOf(labels, FRAMES / 5);
const outcomes = outcomesAt(times, (time) => photosFor(camera, time), truth);
const ANIMAL = 9 * COLUMNS + 13;
const isHere = (k: number) => truth.visits.some(({ start, end }) => times[k]! >= start && times[k]! <= end);

/** Frames in which 40 pixels change in each of some cells. */
function stirring(cellsIn: (k: number) => number[]): Stirred {
  const frames = Array.from(times.keys(), (k) => ({ k, cells: cellsIn(k) })).filter(
    ({ cells }) => cells.length > 0,
  );
  const cells = frames.flatMap((frame) => frame.cells);
  let piece = 0;
  return {
    places: Uint32Array.from(frames, ({ k }) => k),
    pieceAt: Uint32Array.from([0, ...frames.map((frame) => (piece += frame.cells.length))]),
    cellAt: Uint32Array.from({ length: cells.length + 1 }, (_, i) => i),
    cells: Uint8Array.from(cells),
    counts: new Uint32Array(cells.length).fill(40),
  };
}
const CORNER = [0, 1, COLUMNS, COLUMNS + 1];
const animal = (k: number) => (isHere(k) ? [ANIMAL] : []);
const everywhere = Array.from({ length: CELLS }, (_, cell) => cell);
const clip: NotedParts = {
  times,
  within: null,
  stirred: new Map([
    [60, stirring(() => [])],
    [30, stirring((k) => [...CORNER, ...animal(k)])],
    [10, stirring(() => everywhere)],
  ]),
  parts: [{ from: 0, times, truth, outcomes }],
};

it('masks are sought first where one would help: not where everything stirs, nor where nothing does', async () => {
  const [first] = await settingsToSearch([clip], camera, grid, goal);
  expect(first?.threshold).toBe(30);
});

it('a mask is worth what the best settings under it are', async () => {
  const hidden = (cells: readonly number[]) =>
    Uint8Array.from(everywhere, (cell) => Number(cells.includes(cell)));
  const [none, corner, both] = await Promise.all(
    [[], CORNER, [...CORNER, ANIMAL]].map((cells) => worthHidden([clip], hidden(cells), camera, grid, goal)),
  );
  expect(corner).toBeGreaterThan(none!);
  expect(corner).toBeGreaterThan(both!);
});
