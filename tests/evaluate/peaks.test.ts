import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { columnsFrom } from '../../src/sweep/columns.js';
import { dialsOf, Grid } from '../../src/sweep/grid.js';
import { sharpOf } from './peaks.js';
import { windowOf } from './window.js';

const camera = cameraSchema.parse({
  version: 1,
  name: 'one photo at once',
  analysis: { width: 320, height: 240, rate: 1, smooth: 1 },
  reference: { kind: 'previous', lag: 1 },
  shutterLag: 0,
  burst: { photos: 1, interval: 1 },
  controls: {
    threshold: { sets: 'threshold', choices: [10] },
    minimumArea: { sets: 'minimumArea', choices: [20] },
    persistence: { sets: 'persistence', choices: [1, 2] },
    cooldown: { sets: 'cooldown', choices: [3] },
  },
});

/** Changed pixels second by second; the animal is there from 8 to 10. */
const AREAS = Uint32Array.of(0, 30, 50, 25, 0, 90, 0, 0, 40, 70, 60, 0);

const film = {
  times: Float64Array.from(AREAS, (_, k) => k),
  seconds: 12,
  labels: { version: 1 as const, visits: [{ start: 8, end: 10, type: 'animal' as const }] },
  ...columnsFrom(() => AREAS),
};

it('reads the peak of what fires falsely while the camera is busy, and the margin of a visit', async () => {
  const grid = new Grid(camera, dialsOf(camera));
  const { peaks, margins } = await sharpOf(windowOf(film, 0, 12, camera), grid, camera);
  const [one, two] = [0, 1].map((setting) => ({
    peaks: Array.from(peaks[setting]!),
    margins: Array.from(margins[setting]!),
  }));
  // Busy from 1 to 4, in which 50 is the most; then 90 alone.
  expect(one).toEqual({ peaks: [50, 90], margins: [70] });
  // Two frames in a row: 30 and 50 fire at 30; of 40, 70 and 60 the last two at 60.
  expect(two).toEqual({ peaks: [30], margins: [60] });
});
