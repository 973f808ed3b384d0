import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Labels } from '../../../src/score/labels.js';
import { drawFrames, writeClip } from '../../support/clips.js';
import { openPage } from '../../support/page.js';
import { start } from '../../support/program.js';
import { scratch, served } from '../../support/workbench.js';

const RATE = 5;
const walks = (k: number) => (k >= 10 && k < 20 ? { x: 2 * (k - 10), y: 20, size: 8, level: 200 } : null);

/** A folder with one clip of eight seconds, and its labels. */
async function hedge(labels: object | null) {
  const folder = scratch();
  await writeClip(join(folder, 'hedge'), drawFrames(40, walks, 'label'), labels);
  const file = join(folder, 'hedge', 'labels.json');
  return { folder, file, read: () => JSON.parse(readFileSync(file, 'utf8')) as Labels };
}

/** The page opens the first clip by itself. */
async function openHedge(page: Page): Promise<void> {
  await page.getByRole('slider', { name: 'Where in the clip' }).waitFor();
}

const press = async (page: Page, ...keys: string[]) => {
  for (const key of keys) await page.keyboard.press(key);
};
const times = (n: number, key: string) => Array.from({ length: n }, () => key);
const isSaved = (page: Page) => page.getByText('All is saved').waitFor();
const visit = (start: number, end: number, rest: object = {}) => ({ start, end, type: 'animal', ...rest });

it('is labelled by keyboard alone, to the frame', async () => {
  const { folder, read } = await hedge(null);
  const { page, complaints } = await openPage(await served(folder));
  await page.getByText('Nothing is labelled yet: play').waitFor();
  await press(page, ...times(10, 'ArrowRight'), 'v', ...times(8, 'ArrowRight'), 'v', 'r');
  await press(page, 'm', ...'wren', 'Enter', 'c', '2', 'Escape');
  await press(page, 'o', 'ArrowRight', 'ArrowRight', 'Shift+ArrowDown', 'Enter');
  await press(page, 'Shift+ArrowRight', ...times(4, 'ArrowLeft'), 'v', 'ArrowRight', 'ArrowRight', 'v', 'w');
  await press(page, 't', 'ArrowDown', 'Escape');
  await press(page, 'Home', 'x', 'ArrowRight', 'x', 'm', ...'set up', 'Enter');
  await isSaved(page);
  expect(read()).toEqual({
    version: 1,
    // What was stepped through, and not what was jumped over.
    reviewed: [
      { start: 0, end: 18 / RATE },
      { start: 7, end: 8 },
    ],
    visits: [
      visit(2, 19 / RATE, { name: 'wren', count: 2, box: [0.41, 0.4, 0.2, 0.21] }),
      visit(7.2, 7.4, { type: 'human' }),
    ],
    ignored: [{ start: 0, end: 0.2, why: 'set up' }],
  });
  expect(await page.locator('.overview').textContent()).toBe(
    '1 visit, 0:04 of 0:08 looked through; 1 time somebody else than an animal',
  );
  expect(complaints).toEqual([]);
});

it('takes up again, after it was closed, a visit that was begun and not ended, which counts for nothing until then', async () => {
  const { folder, read } = await hedge(null);
  const address = await served(folder);
  const first = await openPage(address);
  await openHedge(first.page);
  await press(first.page, ...times(10, 'ArrowRight'), 'v');
  await isSaved(first.page);
  expect(read().visits).toEqual([]);
  const { page } = await openPage(address);
  await page.getByText('0:02.0: a visit begins here, and its end is not marked yet.').waitFor();
  expect(await page.getByText('missed by the dials').count()).toBe(0);
  await press(page, 'End', 'ArrowLeft');
  await page.getByRole('button', { name: 'It ends at the frame shown' }).click();
  await expect.poll(read).toMatchObject({ visits: [visit(2, 7.6)] });
  expect(read().ignored).toBeUndefined();
});

it('leaves letters alone where they are switched off, from then on', async () => {
  const { folder } = await hedge(null);
  const { page } = await openPage(await served(folder));
  await openHedge(page);
  await page.getByRole('button', { name: 'Keys', exact: true }).click();
  await page.getByRole('checkbox', { name: 'Letters and signs work by themselves' }).uncheck();
  await page.getByRole('button', { name: 'Close' }).click();
  await page.reload();
  await openHedge(page);
  await press(page, 'v', 'ArrowRight');
  await page.getByRole('img', { name: 'frame 2 of 40' }).waitFor();
  expect(await page.getByText('its end is not marked yet').count()).toBe(0);
  expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);
});

it('goes back and forth by name, on disk too, and begins anew', async () => {
  const before = { version: 1, visits: [visit(1, 2), visit(4, 5)] };
  const { folder, read } = await hedge(before);
  const { page } = await openPage(await served(folder));
  await openHedge(page);
  await press(page, 'n', 'n', 'Delete');
  await page.getByRole('button', { name: 'Undo: a visit deleted' }).waitFor();
  await page.getByRole('button', { name: 'Label it anew' }).click();
  await expect.poll(() => read().visits).toEqual([]);
  await press(page, 'Control+z', 'Control+z');
  await expect.poll(read).toEqual(before);
  await page.getByRole('button', { name: 'Redo: a visit deleted' }).click();
  await expect.poll(() => read().visits).toEqual([visit(1, 2)]);
});

it('is seen and moved on the strip by pointer, to the frame', async () => {
  const { folder, read } = await hedge({ version: 1, visits: [visit(2, 4)] });
  const { page } = await openPage(await served(folder));
  await openHedge(page);
  const slider = page.getByRole('slider', { name: 'Where in the clip' });
  const { x, y, width } = (await slider.boundingBox())!;
  const at = (seconds: number) => x + (seconds / 8) * width;
  await page.mouse.click(at(5), y + 20);
  expect(await slider.getAttribute('aria-valuetext')).toBe('5 seconds of 8 seconds, 0:05.0');
  await page.mouse.move(at(4), y + 55);
  await page.mouse.down();
  await page.mouse.move(at(5.2), y + 55, { steps: 3 });
  await page.mouse.move(at(6.03), y + 55, { steps: 3 });
  await page.mouse.up();
  await expect.poll(() => read().visits).toEqual([visit(2, 6)]);
  await press(page, 'Control+z');
  await expect.poll(() => read().visits).toEqual([visit(2, 4)]);
});

it('moves by the keys of a slider', async () => {
  const { folder } = await hedge(null);
  const { page } = await openPage(await served(folder));
  await openHedge(page);
  const slider = page.getByRole('slider', { name: 'Where in the clip' });
  await slider.focus();
  for (const [key, now] of [
    ['ArrowRight', '1'],
    ['ArrowUp', '2'],
    ['ArrowLeft', '1'],
    ['End', '39'],
    ['PageDown', '0'],
    ['PageUp', '39'],
    ['Home', '0'],
  ] as const) {
    await press(page, key);
    await expect.poll(() => slider.getAttribute('aria-valuenow'), { message: key }).toBe(now);
  }
});

it('plays by the times of the clip, and stops at its end', async () => {
  const { folder } = await hedge(null);
  const { page } = await openPage(await served(folder));
  await openHedge(page);
  // From a frame that is not among those shown at that speed.
  await press(page, ...times(3, 'ArrowRight'));
  await page.getByRole('combobox', { name: 'Speed' }).selectOption('16');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByRole('img', { name: 'frame 40 of 40' }).waitFor();
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
});

describe('a file changed meanwhile', () => {
  it('is merged where the changes do not touch, and keeps what the page does not edit', async () => {
    const own = {
      $schema: '../labels.schema.json',
      version: 1,
      causes: [{ start: 6, end: 7, cause: 'wind' }],
      foliage: [
        [
          [0, 0],
          [1, 0],
          [1, 1],
        ],
      ],
    };
    const { folder, file, read } = await hedge({ ...own, visits: [{ start: '0:01', end: '0:02' }] });
    const { page } = await openPage(await served(folder));
    await openHedge(page);
    writeFileSync(file, JSON.stringify({ ...own, visits: [visit(1, 2), visit(4, 5)] }));
    await press(page, ...times(15, 'ArrowRight'), 'v', 'ArrowRight', 'v');
    await expect.poll(read).toEqual({ ...own, visits: [visit(1, 2), visit(3, 3.2), visit(4, 5)] });
    await page.getByText('what they changed is here too').waitFor();
    await press(page, 'Control+z', 'Control+z');
    await expect.poll(() => read().visits).toEqual([visit(1, 2), visit(4, 5)]);
  });

  it('is asked about where they touch', async () => {
    const { folder, file, read } = await hedge({ version: 1, visits: [visit(1, 2)] });
    const { page } = await openPage(await served(folder));
    await openHedge(page);
    writeFileSync(file, JSON.stringify({ version: 1, visits: [visit(1, 3)] }));
    await press(page, 'n', 'q');
    const asked = page.getByRole('alert', { name: 'Changed in two places' });
    await asked.waitFor();
    expect(await asked.getByRole('listitem').allTextContents()).toEqual([
      '0:00.8 to 0:02.0, an animal',
      '0:01.0 to 0:03.0, an animal',
    ]);
    expect(read().visits).toEqual([visit(1, 3)]);
    await asked.getByRole('button', { name: 'Keep what is here' }).click();
    await expect.poll(() => read().visits).toEqual([visit(0.8, 2)]);
  });

  it('is noticed when the page is looked at again', async () => {
    const { folder, file } = await hedge({ version: 1, visits: [visit(1, 2)] });
    const { page } = await openPage(await served(folder));
    await openHedge(page);
    writeFileSync(file, JSON.stringify({ version: 1, visits: [visit(1, 2), visit(4, 5)] }));
    await page.evaluate(() => window.dispatchEvent(new Event('focus')));
    await page.getByText('2 visits, ').waitFor();
  });
});

it('offers after a reload what was not on disk yet', async () => {
  const { folder, read } = await hedge({ version: 1, visits: [visit(1, 2)] });
  const { page } = await openPage(await served(folder));
  await openHedge(page);
  await page.route('**/labels', (route) => route.abort());
  await press(page, ...times(20, 'ArrowRight'), 'v', 'ArrowRight', 'v');
  await page.getByText('Not saved yet: the server does not answer').waitFor();
  await page.unroute('**/labels');
  await page.route('**/labels', (route) =>
    route.request().method() === 'PUT' ? route.abort() : route.continue(),
  );
  page.on('dialog', (dialog) => void dialog.accept());
  await page.reload();
  await page.unroute('**/labels');
  await openHedge(page);
  await page.getByRole('button', { name: 'Put them back' }).click();
  await expect.poll(() => read().visits).toEqual([visit(1, 2), visit(4, 4.2)]);
});

it('survives the server being killed amid a stream of edits: the file is whole, and the edit in flight is all that is lost', async () => {
  const { folder, file, read } = await hedge(null);
  const { child, address } = await start(folder);
  const { page } = await openPage(address);
  await openHedge(page);
  const answered: number[] = [];
  page.on('response', (response) => {
    const request = response.request();
    if (request.method() !== 'PUT' || response.status() !== 200) return;
    answered.push((JSON.parse(request.postData()!) as { labels: Labels }).labels.visits.length);
    if (answered.length === 4) child.kill('SIGKILL');
  });
  const gone = page.getByText('Not saved yet: the server does not answer');
  let edits = 0;
  while (!(await gone.isVisible())) {
    await press(page, 'v', 'ArrowRight', 'v');
    edits++;
  }
  expect(read().visits.length).toBeGreaterThanOrEqual(answered.at(-1)!);
  expect(read().visits.length).toBeLessThanOrEqual(edits);
  // Nothing half-written stays: a part of a file is put away by whoever writes there next.
  const labels = JSON.parse(readFileSync(file, 'utf8')) as Labels;
  expect(labels.visits.every(({ start, end }) => end >= start)).toBe(true);

  await press(page, 'v', 'ArrowRight', 'v');
  const again = await openPage((await start(folder)).address);
  await openHedge(again.page);
  await expect.poll(() => again.page.getByRole('listitem').count()).toBeGreaterThan(0);
  await press(again.page, 'v', 'v');
  await isSaved(again.page);
  expect(readdirSync(join(folder, 'hedge')).sort()).toEqual(['clip.json', 'frames', 'labels.json']);
});

it('is all named for screen readers, at every size and in the dark', async () => {
  const { folder } = await hedge({
    version: 1,
    visits: [visit(1, 2, { name: 'wren', box: [0.1, 0.1, 0.2, 0.2] })],
    ignored: [{ start: 0, end: 1 }],
    reviewed: [{ start: 0, end: 4 }],
  });
  const address = await served(folder);
  for (const [width, scheme] of [
    [1280, 'light'],
    [360, 'dark'],
    [1280, 'dark'],
    [360, 'light'],
  ] as const) {
    const { page } = await openPage(address, { width, height: 800 }, scheme);
    await openHedge(page);
    await press(page, 'n');
    await page.getByText('How to read it').click();
    await page.evaluate(axe.source);
    for (const open of ['the view', 'the keys']) {
      if (open === 'the keys') {
        await press(page, '?');
        await page.getByRole('dialog', { name: 'Keys that work now' }).waitFor();
      }
      // As axe-core documents it: run in the page, of which this file knows no types.
      const found = await page.evaluate(
        'axe.run().then(({ violations }) => violations.map((v) => [v.id, v.nodes[0].html]))',
      );
      expect(found, `${open}, ${width} ${scheme}`).toEqual([]);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  }
});
