import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { cameraFigure } from '../../src/lab/camera-figure.js';

it('the figure of README is what the program computes now (npm run figure draws it anew)', () => {
  const drawn = readFileSync(fileURLToPath(new URL('../../clips/camera.svg', import.meta.url)), 'utf8');
  // The whole text of it would say nothing to whoever reads that it differs.
  expect(drawn === `${cameraFigure()}\n`).toBe(true);
});
