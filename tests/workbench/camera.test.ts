import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { shippedCameras, shippedFile } from '../../src/files/shipped-cameras.js';
import type { CameraOffered } from '../../src/workbench/routes/camera.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** The part of the view in which one begins with a camera that ships, opened. */
async function begun(page: Page) {
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  const part = page.locator('details.begin-with:not(.find-it)');
  await part.locator('summary').press('Enter');
  return part;
}

it('every camera that ships is offered, after the one that stands in', async () => {
  const offered = (await (await fetch(`${await served(scratch())}api/cameras`)).json()) as CameraOffered[];
  expect(offered.map(({ name }) => name)).toEqual(['default', ...shippedCameras]);
  for (const { name, camera } of offered.slice(1)) {
    const file = shippedFile(name as (typeof shippedCameras)[number]);
    expect(camera.name).toBe(JSON.parse(readFileSync(file, 'utf8')).name);
  }
});

it('the camera is described like one that ships, by the keyboard alone; nothing is written before it is kept', async () => {
  const folder = scratch();
  const { page, complaints } = await openPage(await served(folder));
  const part = await begun(page);
  await part.getByRole('radio', { name: /small and slow/ }).press('Space');
  const row = part.getByRole('row', { name: /pictures that it compares/ });
  await row.waitFor();
  expect(await row.getByRole('cell').allTextContents()).toEqual([
    '320 x 240 pixels, blurred by 1',
    '160 x 120 pixels, not blurred',
  ]);
  await part.getByRole('button', { name: 'Describe mine like this' }).press('Enter');
  await page.getByText('Described below as the small and slow camera does it, and not kept yet.').waitFor();
  await part.getByText('It is described like this already.').waitFor();
  const file = join(folder, 'camera.json');
  expect(existsSync(file)).toBe(false);
  await page.getByRole('button', { name: 'Keep it' }).press('Enter');
  await page.getByText('Kept in camera.json.').waitFor();
  const shipped = JSON.parse(readFileSync(shippedFile('small-and-slow'), 'utf8'));
  expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject(shipped);
  expect(complaints).toEqual([]);
});

it("the owner's own dials, name and battery stay, as long as nobody says otherwise", async () => {
  const folder = scratch();
  const own = {
    version: 1,
    name: 'pile camera',
    analysis: { width: 640, height: 480, rate: 5 },
    reference: { kind: 'previous' },
    controls: { fineness: { sets: 'threshold', choices: [10, 20, 30] } },
    power: { mAh: 10_000 },
  };
  const file = join(folder, 'camera.json');
  writeFileSync(file, JSON.stringify(own));
  const { page } = await openPage(await served(folder));
  const part = await begun(page);
  await part.getByRole('radio', { name: /slow-average/ }).check();
  await part.getByRole('button', { name: 'Describe mine like this' }).click();
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByText('Kept in camera.json.').waitFor();
  expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({
    name: 'pile camera',
    analysis: { width: 320, height: 240, rate: 5, smooth: 2 },
    reference: { kind: 'average', seconds: 20 },
    controls: own.controls,
    power: own.power,
  });
});
