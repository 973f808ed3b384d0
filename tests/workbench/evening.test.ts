import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { axe } from '../support/axe.js';
import { openPage } from '../support/page.js';
import { writePhotos } from '../support/photos.js';
import { scratch, served } from '../support/workbench.js';

/** Two hours: a burst of two, and three single ones. */
const photos = {
  '100/IMG_1.JPG': '2026-05-09 06:05:00',
  '100/IMG_2.JPG': '2026-05-09 06:05:01',
  '100/IMG_3.JPG': '2026-05-09 06:40:00',
  '101/IMG_1.JPG': '2026-05-09 07:10:00',
  '101/IMG_2.JPG': '2026-05-09 07:50:00',
};
const seen = (marks: string) =>
  readFileSync(marks, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((row) => row.split(',')[1]);
const shown = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'What to do' }).getByRole('button', { name, exact: true }).click();

it('photos of a card are copied here, marked by the keyboard alone, and told of; they stay after a reload', async () => {
  const [root, card] = [scratch(), join(scratch(), 'DCIM')];
  await writePhotos(card, photos);
  const { page, complaints } = await openPage(await served(root));
  await shown(page, 'Evening');
  await page.getByLabel(/choose it/).setInputFiles(card);
  await page.getByText('5 photos, from 100-IMG_1.JPG to 101-IMG_2.JPG.').waitFor();
  await page.getByLabel('What to call this evening').fill('9 May');
  await page.getByLabel('What to call this evening').press('Enter');
  await page.getByRole('img', { name: 'number 1 of 5' }).waitFor();
  await page.locator('.photos li button[aria-current]').focus();
  // The burst as one, and on to the next that is not marked.
  await page.keyboard.press('n');
  await page.getByRole('img', { name: 'number 3 of 5' }).waitFor();
  await page.keyboard.press('p');
  await page.keyboard.press('u');
  await page.keyboard.press('a');
  await page.getByRole('img', { name: 'number 4 of 5' }).waitFor();
  await page.getByRole('button', { name: 'All 2: nothing' }).press('Enter');
  await page.getByText('5 of 5 marked: 1 animal, 4 nothing, 0 person.').waitFor();
  await page.getByText('saved in 9 May-marks.csv').waitFor();
  expect(seen(join(root, '9 May-marks.csv'))).toEqual(['nothing', 'nothing', 'animal', 'nothing', 'nothing']);
  await page.getByLabel('Out until').fill('7:55');
  await page.getByRole('button', { name: 'Tell me what came of it' }).press('Enter');
  await page.getByText('5 photos: 1 of animals, 4 of nothing.').waitFor();
  await page.getByRole('button', { name: 'Save the report' }).press('Enter');
  await page.getByText(/^Saved in .*: 9 May-evening\.html$/).waitFor();
  expect(readFileSync(join(root, '9 May-evening.html'), 'utf8')).toMatch(/^<!doctype html>/);
  await page.getByLabel('Out until').fill('25:00');
  await page.getByText('have been changed since: ask again').waitFor();
  await page.getByRole('button', { name: 'Tell me what came of it' }).click();
  await page.getByText(/^Out until: expected a time by the camera's own clock/).waitFor();
  await page.reload();
  await shown(page, 'Evening');
  await page.getByRole('button', { name: '9 May' }).click();
  await page.getByText('5 of 5 marked: 1 animal, 4 nothing, 0 person.').waitFor();
  expect(complaints).toEqual([]);
});

it('a mark whose file cannot be written is not lost: it is said, kept over a reload, and written when it can be', async () => {
  const root = scratch();
  await writePhotos(join(root, 'DCIM'), photos);
  const marks = join(root, 'DCIM-marks.csv');
  const { page } = await openPage(await served(root));
  await page.route('**/marks', (route) =>
    route.request().method() === 'PUT' ? route.abort() : route.continue(),
  );
  await shown(page, 'Evening');
  await page.getByRole('button', { name: 'DCIM' }).click();
  await page.getByRole('button', { name: /^Animal/ }).click();
  await page.getByText(/^Not saved yet: /).waitFor();
  expect(existsSync(marks)).toBe(false);
  await page.unroute('**/marks');
  await page.reload();
  await shown(page, 'Evening');
  await page.getByRole('button', { name: 'DCIM' }).click();
  await page.getByText('Marks that were not on disk when the page was closed are back.').waitFor();
  await page.getByText('saved in DCIM-marks.csv').waitFor();
  expect(seen(marks)).toEqual(['animal', 'animal', '', '', '']);
});

it('an evening is held against what the folder promises, in words of this page', async () => {
  const root = scratch();
  await writePhotos(join(root, 'DCIM'), photos);
  const rows = Object.keys(photos).map((name) => `${name},nothing`);
  writeFileSync(join(root, 'DCIM-marks.csv'), ['photo,seen', ...rows, ''].join('\n'));
  const falsePerHour = { value: 60, low: 50, high: 70 };
  const recommended = { score: { falsePerHour: null }, unseen: { falsePerHour } };
  const sites = [{ site: 'hedge', tells: 'enough', photosPerTrigger: 1, recommended }];
  writeFileSync(join(root, 'hedge-promised.json'), JSON.stringify({ sites }));
  const { page, complaints } = await openPage(await served(root), { width: 360, height: 740 });
  await shown(page, 'Evening');
  await page.getByRole('button', { name: 'DCIM' }).click();
  await page.getByText('5 of 5 marked').waitFor();
  expect(await page.getByLabel('Held against what was promised').inputValue()).toContain(
    'hedge-promised.json',
  );
  await page.getByRole('button', { name: 'Tell me what came of it' }).click();
  const outcome = page.locator('.outcome');
  await outcome.getByRole('heading', { name: 'Better than promised' }).waitFor();
  expect(await outcome.textContent()).not.toMatch(/--/);
  expect(await axe(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)).toBe(false);
  expect(complaints).toEqual([]);
});
