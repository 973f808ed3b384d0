import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { CameraFound } from '../../src/workbench/fit-protocol.js';
import { linesOf, post } from '../support/asked.js';
import { axe } from '../support/axe.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { writePhotos } from '../support/photos.js';
import { scratch, served } from '../support/workbench.js';

/** Every eight seconds a square hops in; a camera fires when it comes. */
const COMES = [4, 12, 20, 28, 36];
const hops = (k: number) =>
  k % 40 >= 20 && k % 40 < 28 ? { x: 4 * (k % 40) - 70, y: 20, size: 9, level: 200 } : null;

async function garden(): Promise<string> {
  const root = scratch();
  await writeClip(join(root, 'hedge'), drawFrames(200, hops, 'found'), null);
  return root;
}
/** A search takes its time, also on a machine that has others to do. */
const LONG = { timeout: 170_000 };

it('a camera is found by a list of times, and described as it was found; nothing is written before it is kept', {
  timeout: 200_000,
}, async () => {
  const root = await garden();
  const own = { ...smallCamera, name: 'hedge camera', power: { mAh: 5000 } };
  writeFileSync(join(root, 'camera.json'), JSON.stringify(own));
  const list = join(scratch(), 'fired.csv');
  writeFileSync(list, ['fired', ...COMES].join('\n'));
  const { page, complaints } = await openPage(await served(root), { width: 360, height: 740 });
  await page.getByRole('img', { name: 'frame 1 of 200' }).waitFor();
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await page.getByText('Find it by its own photos').press('Enter');
  await page.getByLabel(/^Or a list of the times/).setInputFiles(list);
  await page.getByText(/^Held against the times in fired.csv/).waitFor();
  await page.getByLabel(/photos a trigger \(left empty/).fill('1');
  await page.getByRole('button', { name: 'Find my camera' }).press('Enter');
  await page.getByText(/^hedge: too few to tell: 5 triggers on the clip/).waitFor(LONG);
  await page.getByText(/^What to know of it/).click();
  await page.getByText('5 fired times, each taken as a trigger of its own, as you say').waitFor();
  expect(await axe(page)).toEqual([]);
  expect(await page.locator('main').textContent()).not.toMatch(/--[a-z]/);
  expect(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)).toBe(false);
  await page.getByRole('button', { name: 'Use this camera' }).press('Enter');
  await page.getByText('by too few photos to rely on it; not kept yet.').waitFor();
  expect(JSON.parse(readFileSync(join(root, 'camera.json'), 'utf8'))).toEqual(own);
  // What was found is there again.
  await page.reload();
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await page.getByRole('button', { name: 'Use this camera' }).click();
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByText('Kept in camera.json.').waitFor();
  const { name, controls, power } = JSON.parse(readFileSync(join(root, 'camera.json'), 'utf8'));
  expect({ name, power }).toEqual({ name: own.name, power: own.power });
  // What was found is among the positions of dials that nobody held against it.
  expect(controls.minimumArea.choices).toEqual(expect.arrayContaining(own.controls.minimumArea.choices));
  expect(controls.cooldown.choices).toHaveLength(3);
  expect(complaints).toEqual([]);
});

it('finding it fits a narrow window, and what was kept before is not said of what is looked for', async () => {
  const list = join(scratch(), 'fired.csv');
  writeFileSync(list, 'fired\nnever\n');
  const { page } = await openPage(await served(await garden()), { width: 360, height: 740 });
  await page.getByRole('img', { name: 'frame 1 of 200' }).waitFor();
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  const begin = page.locator('details.begin-with:not(.find-it)');
  await begin.locator('summary').press('Enter');
  await begin.getByRole('radio', { name: /small and slow/ }).check();
  await begin.getByRole('button', { name: 'Describe mine like this' }).click();
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByText('Kept in camera.json.').waitFor();
  await page.getByText('Find it by its own photos').press('Enter');
  expect(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)).toBe(false);
  await page.getByLabel(/^Or a list of the times/).setInputFiles(list);
  await page.getByRole('button', { name: 'Find my camera' }).click();
  await page.getByText(/^fired\.csv: line 2: expected/).waitFor();
  expect(await page.getByText('Kept in camera.json.').count()).toBe(0);
});

it('photos of the folder that were taken at other times are refused in one line; what was sent is not kept', async () => {
  const root = await garden();
  const start = { rate: 5, start: '2026-05-09T06:00:00+01:00' };
  await writeClip(join(root, 'dated'), drawFrames(20, hops, 'dated'), null, start);
  await writePhotos(join(root, 'DCIM'), { 'a.jpg': '2026-05-11 06:00:00', 'b.jpg': '2026-05-11 06:20:00' });
  const address = await served(root);
  const body = { clip: 'dated', evening: 'DCIM', known: false };
  const told = (await linesOf<CameraFound>(await post(`${address}api/fit`, body))).at(-1);
  expect(told).toMatchObject({
    problem: {
      code: 'bad-times',
      message: expect.stringMatching(/^DCIM: expected times while the clip was recorded/),
    },
  });
  const many = (await linesOf<CameraFound>(await post(`${address}api/fit`, { ...body, each: 3 }))).at(-1);
  expect(many).toMatchObject({
    problem: {
      message: expect.stringMatching(/^photos a trigger: expected at most .* \(2 in DCIM\), found 3/),
    },
  });
  const { id } = (await (await post(`${address}api/bring-in`)).json()) as { id: string };
  await fetch(`${address}api/bring-in/${id}/files/f.csv?at=0`, { method: 'PUT', body: 'fired\nnever\n' });
  const sent = { clip: 'hedge', known: false, photos: false };
  const refused = (await linesOf<CameraFound>(await post(`${address}api/bring-in/${id}/fit`, sent))).at(-1);
  expect(refused).toMatchObject({ problem: { message: expect.stringMatching(/^f\.csv: line 2: expected/) } });
  await fetch(`${address}api/bring-in/${id}`, { method: 'DELETE' });
  expect(existsSync(join(root, 'camera.json'))).toBe(false);
  expect(await (await fetch(`${address}api/fitted`)).json()).toBe(null);
});
