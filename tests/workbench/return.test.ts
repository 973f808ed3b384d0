import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { startBrowser } from '../support/browser.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { start } from '../support/program.js';
import { scratch } from '../support/workbench.js';

const visit = (start: number, end: number) => ({ start, end, type: 'animal' });

async function hedge() {
  const [folder, cache] = [scratch(), scratch()];
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(20, () => null, 'return'),
    null,
  );
  const file = join(folder, 'hedge', 'labels.json');
  return {
    run: () => start(folder, cache),
    visits: () => (JSON.parse(readFileSync(file, 'utf8')) as { visits: object[] }).visits,
  };
}

async function kill({ child }: Awaited<ReturnType<typeof start>>): Promise<void> {
  const ended = new Promise((done) => child.once('exit', done));
  child.kill('SIGKILL');
  await ended;
}

const press = async (page: Page, ...keys: string[]) => {
  for (const key of keys) await page.keyboard.press(key);
};
const isOpen = (page: Page) => page.getByRole('slider', { name: 'Where in the clip' }).waitFor();
const isUnsaved = (page: Page) => page.getByText('Not saved yet: the server does not answer').waitFor();

it('a page that stayed open goes on when the program is started again, and sends what was done meanwhile', async () => {
  const { run, visits } = await hedge();
  const first = await run();
  const browser = await startBrowser();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(first.address);
  await isOpen(page);
  await press(page, 'v', 'ArrowRight', 'v');
  await expect.poll(visits).toEqual([visit(0, 0.2)]);
  await kill(first);
  await press(page, 'ArrowRight', 'v', 'ArrowRight', 'v');
  await isUnsaved(page);
  await page.getByText('this page goes on').waitFor();
  const second = await run();
  expect(second.address).toBe(first.address);
  await expect.poll(visits).toEqual([visit(0, 0.2), visit(0.4, 0.6)]);
  await page.getByText('All is saved').waitFor();
  // What it had asked for in vain is put away, and all else works.
  await expect.poll(() => page.getByText('does not answer').count()).toBe(0);
  await page.getByRole('button', { name: 'Dials', exact: true }).click();
  await page.getByText(/tried on this clip/).waitFor();
});

it('what a page that was closed meanwhile had not saved is offered at the next start', async () => {
  const { run, visits } = await hedge();
  const first = await run();
  const browser = await startBrowser();
  onTestFinished(() => browser.close());
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(first.address);
  await isOpen(page);
  await kill(first);
  await press(page, 'v', 'ArrowRight', 'v');
  await isUnsaved(page);
  await page.close();
  const next = await context.newPage();
  await next.goto((await run()).address);
  await next.getByRole('button', { name: 'Put them back' }).click();
  await expect.poll(visits).toEqual([visit(0, 0.2)]);
});

it('a page that was opened while the program ended opens its clip once it is back', async () => {
  const { run } = await hedge();
  const first = await run();
  const browser = await startBrowser();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.route('**/api/**', (route) => route.abort());
  await page.goto(first.address);
  await page.getByRole('alert').getByText('does not answer').waitFor();
  await page.unroute('**/api/**');
  await isOpen(page);
  expect(await page.getByRole('alert').getByText('does not answer').count()).toBe(0);
});
