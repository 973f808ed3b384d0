import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { EveningsListed } from '../../src/workbench/evening-protocol.js';
import { post } from '../support/asked.js';
import { axe } from '../support/axe.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

const EVERY = 25;
const VISITS = 12;
const comes = (k: number) => {
  const at = (k % EVERY) - 10;
  return at >= 0 && at < 10 ? { x: 10 + 3 * at, y: 20, size: 10, level: 160 } : null;
};

/** A folder with a clip of a calm day. */
async function garden(): Promise<string> {
  const root = scratch();
  const visits = Array.from({ length: VISITS }, (_, v) => ({
    start: (v * EVERY + 9) / 5,
    end: (v * EVERY + 20) / 5,
  }));
  const conditions = { wind: 2, rain: 0, light: 20_000 };
  const manifest = { rate: 5, site: 'hedge', conditions };
  await writeClip(
    join(root, 'hedge'),
    drawFrames(VISITS * EVERY, comes, 'plan'),
    { version: 1, visits },
    manifest,
  );
  writeFileSync(join(root, 'camera.json'), JSON.stringify(smallCamera));
  return root;
}
/** It takes its time, also on a machine that has others to do. */
const LONG = { timeout: 110_000 };

it('a forecast that is typed in becomes a plan: shown, taken to the dials, saved, and there after a reload', {
  timeout: 180_000,
}, async () => {
  const root = await garden();
  const address = await served(root);
  const { page, complaints } = await openPage(address, { width: 360, height: 740 });
  await page.getByRole('img', { name: /^frame 1 of/ }).waitFor();
  await page.getByRole('button', { name: 'Coming days', exact: true }).click();
  await page.getByLabel('From', { exact: true }).fill('2099-05-04T06:00');
  await page.getByLabel(/^rain, .*09:00/).selectOption({ label: 'rain' });
  await page.getByLabel('Simulate weather').uncheck();
  await page.getByRole('button', { name: 'Work it out' }).press('Enter');
  await page
    .getByText(/^hedge: Leave it at sensitivity \d, minimumArea \d+, cooldown \d, as a hint\./)
    .waitFor(LONG);
  const row = page.getByRole('table', { name: 'Hour by hour' }).getByRole('row');
  expect(await row.nth(1).getByRole('rowheader').textContent()).toBe('Mon 4 May 06:00, 3 h');
  expect(await row.nth(1).getByRole('cell').allTextContents()).toHaveLength(3);
  await page.getByText(/^In every hour of use: sensitivity \d, minimumArea \d+, cooldown \d\.$/).waitFor();
  // Nothing is cut off where a window is narrow.
  const cut = await page
    .locator('.scrolls')
    .evaluateAll((all) => all.filter(({ scrollWidth, clientWidth }) => scrollWidth > clientWidth).length);
  expect(cut).toBe(0);
  expect(await axe(page)).toEqual([]);
  expect(await page.locator('main').textContent()).not.toMatch(/--[a-z]/);
  expect(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)).toBe(false);
  await page.getByRole('button', { name: 'Set the dials to this' }).press('Enter');
  await page.getByText('The dials stand like this now.').waitFor();
  await page.getByRole('button', { name: 'Save what it promises' }).press('Enter');
  await page.getByText(/: plan\.json$/).waitFor();
  await page.getByRole('button', { name: 'Save the calendar' }).press('Enter');
  await page.getByText(/: plan\.ics$/).waitFor();
  expect(readFileSync(join(root, 'plan.ics'), 'utf8')).toMatch(/^BEGIN:VCALENDAR/);
  const { promises } = (await (await fetch(`${address}api/evenings`)).json()) as EveningsListed;
  expect(promises.map(({ file, kind, site }) => [file, kind, site])).toEqual([
    ['plan.json', 'plan', 'hedge'],
  ]);
  // An answer to what was asked before is marked as such.
  await page.getByRole('button', { name: '3 hours fewer' }).click();
  await page.getByText('What is asked has been changed since').waitFor();
  await page.reload();
  await page.getByRole('button', { name: 'Coming days', exact: true }).click();
  await page.getByText(/^hedge: Leave it at/).waitFor();
  expect(await page.getByLabel('From', { exact: true }).inputValue()).toBe('2099-05-04T06:00');
  expect(await page.getByLabel(/^wind, /).count()).toBe(7);
  expect(complaints).toEqual([]);
});

it.each([
  [
    'plan',
    {
      forecast: { name: 'week.csv', text: 'time,beaufort\n2099-05-04T06:00Z,2\n' },
      worth: 10,
      walk: 20,
      allowance: null,
    },
  ],
  ['tune', { wanted: { worth: 10 }, now: null }],
])('api/%s refuses a clip that is named twice', async (what, asked) => {
  const awake = what === 'plan' ? { awake: { from: 7, until: 21 }, inUse: null } : {};
  const address = await served(await garden());
  const body = { clips: ['hedge', 'hedge'], recordedOnly: true, ...asked, ...awake };
  const answer = await post(`${address}api/${what}`, body);
  expect([answer.status, await answer.json()]).toMatchObject([
    400,
    { message: expect.stringMatching(/^what is asked: clips: expected each clip once, /) },
  ]);
});

it('is asked within so many photos of nothing a day, as Answer is', LONG, async () => {
  const { page } = await openPage(await served(await garden()), { width: 360, height: 740 });
  await page.getByRole('img', { name: /^frame 1 of/ }).waitFor();
  await page.getByRole('button', { name: 'Answer', exact: true }).click();
  await page.getByLabel('photos of nothing a day', { exact: true }).fill('0.00001');
  await page.getByText('expected 0, or a number from 0.0001 to 1000000').waitFor();
  await page.getByLabel('photos of nothing a day', { exact: true }).fill('30');
  await page.getByRole('button', { name: 'Coming days', exact: true }).click();
  expect(await page.getByLabel('photos of nothing a day', { exact: true }).inputValue()).toBe('30');
  await page.getByLabel('hours a day that the camera is out').fill('15');
  await page.getByLabel('Simulate weather').uncheck();
  await page.getByRole('button', { name: 'Work it out' }).press('Enter');
  await page.getByText(/^Chosen to fire falsely no more than \d+ times in any hour: /).waitFor(LONG);
  expect(await axe(page)).toEqual([]);
});

it('api/plan refuses an allowance that no recording could tell from none', async () => {
  const asked = {
    ...{ clips: ['hedge'], worth: 10, walk: 20, awake: { from: 7, until: 21 }, recordedOnly: true },
    forecast: { name: 'f', text: 'time,wind\n2099-05-04T06:00:00Z,3\n' },
    ...{ inUse: null, allowance: { photosPerDay: 0.00001, hoursOut: 16 } },
  };
  const refused = await post(`${await served(await garden())}api/plan`, asked);
  expect([refused.status, await refused.json()]).toMatchObject([
    400,
    { message: expect.stringMatching(/allowance\.photosPerDay: expected 0, or a number from 0\.0001/) },
  ]);
});

it('a forecast from a file that is none is refused in one line that names it', async () => {
  const root = await garden();
  const file = join(scratch(), 'week.csv');
  writeFileSync(file, 'time,wind\n2099-05-04T06:00,3\n');
  const { page } = await openPage(await served(root));
  await page.getByRole('img', { name: /^frame 1 of/ }).waitFor();
  await page.getByRole('button', { name: 'Coming days', exact: true }).click();
  await page.getByLabel(/^Or from a file/).setInputFiles(file);
  await page.getByText('From week.csv').waitFor();
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByText(/^week\.csv: line 2/).waitFor();
  expect(existsSync(join(root, 'plan.json'))).toBe(false);
});

it('a plan that is not kept is not saved, and what cannot be asked is refused', async () => {
  const address = await served(await garden());
  const save = await post(`${address}api/plans/unknown/save`, { what: 'promise', replace: false });
  expect(await save.json()).toMatchObject({ code: 'file-missing' });
  const asked = {
    clips: ['hedge'],
    forecast: { name: 'f', text: 'time,wind\n2099-05-04T06:00:00Z,3\n' },
    worth: 10,
    allowance: null,
    walk: 20,
    awake: { from: 7, until: 7 },
    recordedOnly: true,
    inUse: null,
  };
  const refused = await post(`${address}api/plan`, asked);
  expect([refused.status, await refused.json()]).toEqual([
    400,
    {
      code: 'bad-field',
      message: expect.stringMatching(/^what is asked: awake: expected two different hours/),
    },
  ]);
});
