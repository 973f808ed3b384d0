import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, it, onTestFinished } from 'vitest';
import { readMarks } from '../../src/jobs/evening/marks.js';
import { evening } from '../../src/jobs/evening.js';
import { openPorts } from '../../src/jobs/ports.js';
import { sheetPieces } from '../../src/report/sorting-sheet.js';
import { Cache } from '../../src/store/cache.js';
import { startBrowser } from '../support/browser.js';
import { writePhotos } from '../support/photos.js';
import { scratch } from '../support/workbench.js';

const odd = ['100/"quoted",.jpg', 'line\nbreak.jpg', '<img src=x onerror=alert(1)>.jpg', '=1+2;.jpg'];
/** Three in two hours, one of them a burst of two; then names that would act, of no known time. */
const photos = {
  '100/a.jpg': '2026-05-09 06:00:00',
  '100/b.jpg': '2026-05-09 06:10:00',
  '100/c.jpg': '2026-05-09 06:10:01',
  '101/a.jpg': '2026-05-09 07:00:00',
  ...Object.fromEntries(odd.map((name) => [name, null])),
};

/** A sheet on disk, of such photos. */
async function sheet(marks?: string): Promise<{ file: string; folder: string }> {
  const folder = scratch();
  await writePhotos(join(folder, 'DCIM #1'), photos);
  writeFileSync(join(folder, 'DCIM #1', 'damaged.jpg'), Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]));
  const marked = marks === undefined ? {} : { marks: join(folder, 'marks.csv') };
  if (marks !== undefined) writeFileSync(join(folder, 'marks.csv'), marks);
  const ports = await openPorts({ cache: Cache.inMemory() });
  const found = await evening({ folder: join(folder, 'DCIM #1'), ...marked }, ports);
  const file = join(folder, 'sheet.html');
  let page = '';
  const parts = { evening: found, file, saveAs: 'out/DCIM-marks.csv', burst: null, withoutPeople: false };
  for await (const piece of sheetPieces(parts, ports)) page += piece;
  writeFileSync(file, page);
  return { file, folder };
}

/** Opens it in a browser, which goes when the test is done. */
async function open(file: string, size = { width: 1280, height: 800 }) {
  const browser = await startBrowser();
  onTestFinished(() => browser.close());
  const context = await browser.newContext({ viewport: size, reducedMotion: 'reduce' });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('dialog', (dialog) => {
    complaints.push(dialog.message());
    void dialog.dismiss();
  });
  await page.goto(pathToFileURL(file).href);
  return { page, complaints };
}

const marksOn = (page: Page) =>
  page.$$eval('li', (tiles) => tiles.map((tile) => tile.dataset.seen![0]).join(''));
const current = (page: Page) => page.textContent('.photo.current .n');

describe('the sheet', () => {
  it('is marked by keys, a burst at once, and goes on to the next that is not marked', async () => {
    const { page, complaints } = await open((await sheet()).file);
    await page.keyboard.press('a');
    expect(await current(page)).toBe('2');
    await page.keyboard.press('n');
    expect(await marksOn(page)).toBe('annoooooo');
    expect(await current(page)).toBe('4');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('p');
    expect(await marksOn(page)).toBe('anpoooooo');
    await page.keyboard.press('u');
    await page.keyboard.press('u');
    expect(await marksOn(page)).toBe('aoooooooo');
    expect(await current(page)).toBe('2');
    await page.keyboard.press('Home');
    await page.keyboard.press('Delete');
    expect(await marksOn(page)).toBe('ooooooooo');
    expect(complaints).toEqual([]);
  });

  it('is marked by touch on a phone, and nothing on it is wider than that', async () => {
    const { page, complaints } = await open((await sheet()).file, { width: 390, height: 844 });
    await page.click('#photo-4 button');
    await page.click('[data-mark=animal]');
    await page.click('section:first-of-type .rest');
    expect(await marksOn(page)).toBe('nnnaooooo');
    expect(await page.textContent('section:first-of-type .rest')).toBe('all marked');
    await page.click('#undo');
    expect(await marksOn(page)).toBe('oooaooooo');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(complaints).toEqual([]);
  });

  it('marks one of a burst where that is asked', async () => {
    const { page } = await open((await sheet()).file);
    await page.click('#photo-2 button');
    await page.uncheck('#together');
    await page.keyboard.press('a');
    expect(await marksOn(page)).toBe('oaooooooo');
  });

  it('shows what is asked for, and goes only through that', async () => {
    const { page } = await open((await sheet()).file);
    for (const key of 'ann') await page.keyboard.press(key);
    await page.selectOption('#show', 'nothing');
    expect(await page.$$eval('li', (tiles) => tiles.filter((tile) => tile.offsetParent).length)).toBe(3);
    await page.keyboard.press('Home');
    expect(await current(page)).toBe('2');
    await page.keyboard.press('End');
    expect(await current(page)).toBe('4');
  });

  it('has the marks again when it is loaded anew, and says that they are not saved', async () => {
    const { page } = await open((await sheet()).file);
    for (const key of 'anp') await page.keyboard.press(key);
    const before = await marksOn(page);
    // A page that is loaded by another process of the browser may see what was kept a moment later.
    const again = async () => {
      await page.reload();
      return marksOn(page);
    };
    await expect.poll(again).toBe(before);
    expect(await page.textContent('#said')).toMatch(/last time are back/);
    expect(await page.isVisible('#unsaved')).toBe(true);
  });

  it('saves marks that the program reads, whatever photos are called', async () => {
    const { file, folder } = await sheet();
    const { page, complaints } = await open(file);
    for (const key of 'anpanpan') await page.keyboard.press(key);
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save')]);
    expect(download.suggestedFilename()).toBe('DCIM-marks.csv');
    mkdirSync(join(folder, 'out'));
    const saved = join(folder, 'out', 'marks.csv');
    await download.saveAs(saved);
    const { all } = await evening({ folder: join(folder, 'DCIM #1') }, { cache: Cache.inMemory() });
    const marks = await readMarks(saved, all, () => undefined);
    expect(all.map(({ name }) => marks.get(name)?.[0] ?? 'o').join('')).toBe(await marksOn(page));
    expect([...marks.keys()].sort()).toEqual(expect.arrayContaining([...odd].sort()));
    expect(await page.isVisible('#unsaved')).toBe(false);
    expect(complaints).toEqual([]);
  });

  it('begins with the marks of a file', async () => {
    const { page } = await open((await sheet('photo,seen\n101/a.jpg,animal\n100/b.jpg,nothing\n')).file);
    expect(await marksOn(page)).toBe('onoaooooo');
    expect(await current(page)).toBe('1');
    expect(await page.isVisible('#unsaved')).toBe(false);
  });

  it('says of a damaged photo that it cannot be shown, and it may be marked', async () => {
    const { page } = await open((await sheet()).file);
    const place = await page.$$eval('li', (tiles) => tiles.findIndex((tile) => tile.querySelector('.none')));
    await page.click(`#photo-${place + 1} button`);
    expect(await page.textContent('#none')).toBe('cannot be shown');
    await page.keyboard.press('n');
    expect((await marksOn(page))[place]).toBe('n');
  });

  it('links to the photo itself', async () => {
    const { file, folder } = await sheet();
    const { page } = await open(file);
    const address = await page.$eval('#open', (link) => (link as HTMLAnchorElement).href);
    expect(address).toBe(pathToFileURL(join(folder, 'DCIM #1', '100', 'a.jpg')).href);
  });

  it.each([
    ['wide', 1280],
    ['on a phone', 390],
  ])('can be used by everybody (axe), %s', async (_, width) => {
    const { page } = await open((await sheet()).file, { width, height: 844 });
    // The page lets no script in; the checker comes by the debugger.
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() =>
      (globalThis as unknown as { axe: typeof axe }).axe.run(),
    );
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
  });

  it('is the same for the same photos', async () => {
    const text = async () => readFileSync((await sheet()).file, 'utf8').replace(/perchmark-test-\w+/g, '');
    expect(await text()).toBe(await text());
  });
});
