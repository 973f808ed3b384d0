import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

const walks = (from: number, to: number) => (k: number) =>
  k >= from && k < to ? { x: 2 * (k - from), y: 20, size: 8, level: 200 } : null;

it('opens a folder, shows its clips, and a frame of the one that is chosen', async () => {
  const folder = scratch();
  await writeClip(join(folder, 'hedge'), drawFrames(40, walks(10, 20), 'page'), {
    version: 1,
    visits: [{ start: 2, end: 4 }],
  });
  const { page, complaints } = await openPage(await served(folder));
  await page.getByRole('button', { name: /hedge/ }).click();
  const shown = page.getByRole('img', { name: 'frame 1 of 40' });
  await shown.waitFor();
  await expect.poll(() => shown.evaluate((canvas: HTMLCanvasElement) => canvas.width)).toBe(64);
  expect(complaints).toEqual([]);
});
