import { readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { promisedSites } from '../../src/jobs/evening/promised.js';
import { replay } from '../../src/jobs/index.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

const camera = cameraSchema.parse(smallCamera);

/** A visitor every ten seconds, for two of them; a flicker in between. */
const walks = (k: number) => {
  const at = k % 50;
  if (at >= 20 && at < 30) return { x: 3 * (at - 20), y: 20, size: 8, level: 150 };
  return at === 45 ? { x: 40, y: 4, size: 4, level: 130 } : null;
};
const labelsOf = (visits: number) => ({
  version: 1,
  visits: Array.from({ length: visits }, (_, i) => ({ start: 4 + 10 * i, end: 6 + 10 * i, name: 'wren' })),
});

/** Two clips of one hedge with so many visits each, and a camera that suits them. */
async function hedge(visits: number): Promise<string> {
  const folder = scratch();
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(camera));
  for (const name of ['morning', 'evening']) {
    const frames = drawFrames(50 * visits, walks, name);
    await writeClip(join(folder, name), frames, labelsOf(visits), { rate: 5, site: 'hedge' });
  }
  return folder;
}

async function atAnswer(folder: string): Promise<{ page: Page; complaints: string[] }> {
  const opened = await openPage(await served(folder));
  await opened.page.getByRole('button', { name: 'Answer', exact: true }).click();
  await opened.page.getByRole('checkbox', { name: /Simulate weather/ }).uncheck();
  return opened;
}

it('what to use is worked out, sets the dials, and what is saved is there and is taken by replay', async () => {
  const folder = await hedge(6);
  const { page, complaints } = await atAnswer(folder);
  await page.getByRole('button', { name: /morning/ }).click();
  await page.getByLabel('hours a day that the camera is out').fill('8');
  expect(await page.getByRole('radio', { name: /^One more visit is worth/ }).isChecked()).toBe(true);
  await page.getByRole('button', { name: 'Work it out' }).click();
  const headline = page.getByRole('heading', { name: /^(As a hint, use|Use) sensitivity \d/ });
  await headline.waitFor();
  const [, position] = /sensitivity (\d)/.exec((await headline.textContent())!)!;
  await page.getByRole('button', { name: 'Save the settings files' }).click();
  await page.getByText(/Saved in .*hedge\.json/).waitFor();
  await page.getByRole('button', { name: 'Save the card' }).click();
  await page.getByText(/Saved in .*hedge-card\.html/).waitFor();
  await page.getByRole('button', { name: 'Save the report' }).click();
  await page.getByText(/Saved in .*report\.html/).waitFor();
  await page.getByRole('button', { name: 'Save what it promises' }).click();
  await page.getByText(/Saved in .*hedge-promised\.json/).waitFor();
  expect(await promisedSites(join(folder, 'hedge-promised.json'))).toEqual([
    { kind: 'tune', site: 'hedge', hours: null },
  ]);

  const settings = join(folder, 'hedge.json');
  expect(JSON.parse(readFileSync(settings, 'utf8')).controls.sensitivity).toBe(Number(position));
  const { total } = await replay(
    { clips: [join(folder, 'morning')], camera, settings },
    { cache: new Cache(scratch()) },
  );
  expect(total.visits).toBe(6);
  expect(readFileSync(join(folder, 'hedge-card.html'), 'utf8')).toMatch(
    /^<!doctype html>[\s\S]*hedge[\s\S]*Over 8 hours out,/,
  );
  expect(readFileSync(join(folder, 'report.html'), 'utf8')).toMatch(/^<!doctype html>/);

  await page.getByRole('button', { name: 'Set the dials to this' }).click();
  await page.getByText('The dials stand like this now.').waitFor();
  await page.getByRole('button', { name: 'Dials', exact: true }).click();
  await expect
    .poll(() => page.getByRole('slider', { name: 'sensitivity' }).getAttribute('aria-valuenow'))
    .toBe(position);
  await page.getByText(/the same visits; as many false triggers/).waitFor();
  expect(complaints).toEqual([]);
});

it('the card and the report open in a tab of their own, under their own policy', async () => {
  const { page } = await atAnswer(await hedge(6));
  await page.getByRole('button', { name: 'Work it out' }).click();
  for (const name of ['Show the card', 'Show the report']) {
    const opening = page.waitForEvent('popup');
    await page.getByRole('link', { name }).click();
    const tab = await opening;
    await tab.getByRole('heading').first().waitFor();
    // Its own styles are let in: without them a heading would stand in the browser's usual letters.
    const letters = await tab.evaluate(() => getComputedStyle(document.body).fontFamily);
    expect(letters).toContain('system-ui');
    await tab.close();
  }
});

it('the card and the report are printed, the card on one leaf of A5', async () => {
  const { page, complaints } = await atAnswer(await hedge(6));
  // In the place of the browser's own way to the printer, which asks somebody.
  await page.context().addInitScript({
    content: 'window.print = () => { document.documentElement.dataset.printed = document.readyState; };',
  });
  await page.getByRole('button', { name: 'Work it out' }).click();
  for (const what of ['card', 'report']) {
    const opening = page.waitForEvent('popup');
    await page.getByRole('button', { name: `Print the ${what}` }).click();
    const tab = await opening;
    await tab.locator('html[data-printed=complete] h1').waitFor();
    if (what === 'card') {
      const leaf = (await tab.pdf({ preferCSSPageSize: true })).toString('latin1');
      // 148 x 210 mm, as ISO 216 has A5, in the browser's whole points.
      expect([...leaf.matchAll(/\/MediaBox ?\[0 0 (\d+)\S* (\d+)/g)].map(([, w, h]) => [w, h])).toEqual([
        ['420', '594'],
      ]);
    }
    await tab.close();
  }
  expect(complaints).toEqual([]);
});

it('what is said on the page names no option of a command', async () => {
  const { page } = await atAnswer(await hedge(6));
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByRole('button', { name: 'Print the card' }).waitFor();
  const said = await page.locator('main').textContent();
  expect(said).toContain('Nobody said what you use now (“I use now”, above)');
  expect(said).not.toMatch(/--[a-z]/);
});

it('where there is too little to tell, that stands first, and there are neither settings nor a card to save', async () => {
  const { page } = await atAnswer(await hedge(2));
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByRole('heading', { name: 'Too little to tell which settings are best.' }).waitFor();
  expect(
    await page
      .getByRole('button', { name: /Save the settings|Save the card|^Set the dials to this/ })
      .count(),
  ).toBe(0);
  await page.getByRole('button', { name: 'Set the dials to A' }).click();
});

it('what runs is stopped, and asked again is answered', async () => {
  const { page } = await atAnswer(await hedge(6));
  // Held up, so that there is time to stop it.
  let go = () => {};
  const held = new Promise<void>((done) => {
    go = done;
  });
  await page.route('**/api/tune', async (route) => {
    await held;
    await route.continue().catch(() => undefined);
  });
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByRole('button', { name: 'Stop' }).click();
  await page.getByText(/^Stopped\./).waitFor();
  go();
  await page.unroute('**/api/tune');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByRole('button', { name: 'Set the dials to this' }).waitFor();
});

it('a name that is taken is replaced only when the owner says so', async () => {
  const folder = await hedge(2);
  writeFileSync(
    join(folder, 'garden.json'),
    '{"version":1,"controls":{"sensitivity":1,"minimumArea":4,"cooldown":1}}',
  );
  const { page } = await openPage(await served(folder));
  await page.getByRole('button', { name: /morning/ }).click();
  await page.getByRole('button', { name: 'Dials', exact: true }).click();
  await page.getByLabel('Save these settings as').fill('garden');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText('garden.json is there already.').waitFor();
  expect(JSON.parse(readFileSync(join(folder, 'garden.json'), 'utf8')).controls.sensitivity).toBe(1);
  await page.getByRole('button', { name: 'Replace it' }).click();
  await page.getByText(/Saved in .*garden\.json/).waitFor();
  expect(JSON.parse(readFileSync(join(folder, 'garden.json'), 'utf8')).controls.sensitivity).toBe(3);
});

const file = { version: 1, controls: { sensitivity: 2, minimumArea: 4, cooldown: 1 } };

async function save(address: string, name: string, replace = false, settings: object = file) {
  const response = await fetch(`${address}api/settings`, {
    method: 'POST',
    body: JSON.stringify({ name, settings, replace }),
  });
  return {
    status: response.status,
    told: (await response.json()) as { message?: string; files?: string[]; there?: string[] },
  };
}

it.each(['../out', 'a/b', 'a\\b', '.hidden', 'camera', 'hedge.labels', 'x.json', '', 'a'.repeat(61), 'a\nb'])(
  'settings are not saved under the name %j',
  async (name) => {
    const folder = await hedge(1);
    const before = readdirSync(folder);
    const { status, told } = await save(await served(folder), name);
    expect([status, told.message]).toEqual([400, expect.stringMatching(/^name: expected up to 60 letters/)]);
    expect(readdirSync(folder)).toEqual(before);
  },
);

it('a link out of the folder is not written through', async () => {
  const [folder, outside] = [await hedge(1), scratch()];
  symlinkSync(join(outside, 'out.json'), join(folder, 'garden.json'));
  const { status, told } = await save(await served(folder), 'garden', true);
  expect([status, told.message]).toEqual([
    400,
    expect.stringContaining('this is a link out of the opened folder'),
  ]);
  expect(readdirSync(outside)).toEqual([]);
});

it('settings that are none of the camera are refused', async () => {
  const { status, told } = await save(await served(await hedge(1)), 'garden', false, {
    version: 1,
    controls: { sensitivity: 99 },
  });
  expect([status, told.message]).toEqual([
    400,
    expect.stringContaining('controls.sensitivity: expected 1 to 5'),
  ]);
});

it('in an opened clip settings are put beside clip.json, and nothing is ever replaced', async () => {
  const folder = scratch();
  const dir = await writeClip(join(folder, 'hedge'), drawFrames(20, walks, 'clip'), labelsOf(1));
  writeFileSync(join(dir, 'camera.json'), JSON.stringify(camera));
  const address = await served(dir);
  expect(await save(address, 'garden')).toMatchObject({
    status: 200,
    told: { files: ['garden.json'], there: [] },
  });
  const again = await save(address, 'garden', true);
  expect([again.status, again.told.message]).toEqual([
    400,
    expect.stringMatching(/lies in the clip .* in which nothing is replaced/),
  ]);
  expect(readdirSync(dir).sort()).toEqual([
    'camera.json',
    'clip.json',
    'frames',
    'garden.json',
    'labels.json',
  ]);
});

it('what cannot be asked is refused in one line', async () => {
  const address = await served(await hedge(1));
  const ask = async (body: object) => {
    const response = await fetch(`${address}api/tune`, { method: 'POST', body: JSON.stringify(body) });
    return response.text();
  };
  const asked = { clips: ['morning'], wanted: { worth: 10 }, now: null, recordedOnly: true };
  expect(await ask({ ...asked, clips: [] })).toMatch(/clips: expected/);
  expect(await ask({ ...asked, wanted: { worth: -1 } })).toMatch(/wanted/);
  expect(await ask({ ...asked, clips: ['nowhere'] })).toMatch(/there is no clip nowhere/);
});
