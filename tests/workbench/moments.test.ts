import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { labelsSchema } from '../../src/score/labels.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** Every twelve seconds something walks for two. */
const walks = (k: number) =>
  k % 60 >= 20 && k % 60 < 30 ? { x: 2 * (k % 60) - 30, y: 20, size: 8, level: 190 } : null;

async function sheet(count = 4) {
  const root = scratch();
  const clip = await writeClip(join(root, 'hedge'), drawFrames(60 * count, walks, 'moments'), null);
  writeFileSync(join(root, 'camera.json'), JSON.stringify(smallCamera));
  const opened = await openPage(await served(root));
  const { page } = opened;
  await page.getByRole('img', { name: `frame 1 of ${60 * count}` }).waitFor();
  await page.getByRole('button', { name: 'Moments', exact: true }).click();
  const moments = page.getByRole('checkbox', { name: /at \d:/ });
  const shown = Math.min(count, 12);
  await moments.nth(shown - 1).waitFor();
  expect(await moments.count()).toBe(shown);
  const kept = () => labelsSchema.parse(JSON.parse(readFileSync(join(clip, 'labels.json'), 'utf8')));
  return { ...opened, moments, kept };
}

it('writes what is ticked and answered by keys, several at once, as labels with only that reviewed', async () => {
  const { page, moments, kept, complaints } = await sheet();
  await moments.first().focus();
  await page.keyboard.press('Space');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Space');
  await page.keyboard.press('a');
  await page.getByText('Moments looked at: 2 of 4').waitFor();
  await expect.poll(() => readable(() => kept().visits.length)).toBe(2);
  expect(kept().reviewed).toHaveLength(2);
  // The one after the last that was answered is at hand.
  await page.keyboard.press('n');
  await page.getByText('Moments looked at: 3 of 4').waitFor();
  await expect.poll(() => readable(() => kept().reviewed?.length)).toBe(3);
  expect(kept().visits).toHaveLength(2);
  // One step takes back one answer, however many moments it was of.
  await page.getByRole('button', { name: /Take back: a moment called nothing/ }).click();
  await page.getByRole('button', { name: /Take back: 2 moments called animal/ }).click();
  await page.getByText('Moments looked at: 0 of 4').waitFor();
  expect(complaints).toEqual([]);
});

it('leads in Look and label from one moment that stirs to the next that nobody has looked at', async () => {
  const { page, kept } = await sheet();
  await page.getByRole('button', { name: 'Look and label', exact: true }).click();
  await page.getByText('Something stirs at 4 moments; 4 of them nobody has looked at.').waitFor();
  const now = page.locator('.now');
  const went: (string | null)[] = [];
  for (let i = 0; i < 2; i++) {
    await page.keyboard.press('g');
    went.push(await now.textContent());
  }
  expect(went.map((text) => text?.slice(0, 4))).toEqual(['0:04', '0:16']);
  // Marked, it is looked at: four more presses lead past the others and back to the first.
  await page.keyboard.press('v');
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('v');
  await page.getByText('Something stirs at 4 moments; 3 of them nobody has looked at.').waitFor();
  for (const at of ['0:28', '0:40', '0:04']) {
    await page.getByRole('button', { name: /^To the next of them/ }).click();
    expect((await now.textContent())?.slice(0, 4)).toBe(at);
  }
  await expect.poll(() => readable(() => kept().visits.length)).toBe(1);
});

it('keeps a quiet stretch that was looked through, and says what it lets one conclude', async () => {
  const { page, kept } = await sheet();
  await page.getByText(/0 of 5 quiet stretches, so nothing can be said/).waitFor();
  await page.getByRole('button', { name: /nothing here/ }).click();
  await page.getByText(/1 of 5 quiet stretches, and an animal was in none/).waitFor();
  await expect.poll(() => readable(() => kept().reviewed?.length)).toBe(1);
  await page.getByRole('button', { name: 'I have looked through all of it' }).click();
  await page.getByText('All moments looked at.').waitFor();
  // Left out, as the contract has it.
  await expect.poll(() => readable(() => 'reviewed' in kept())).toBe(false);
});

it('acts once for a key that is held down', async () => {
  const { page, moments } = await sheet();
  await moments.first().focus();
  for (let i = 0; i < 3; i++) await page.keyboard.down('n');
  await page.keyboard.up('n');
  await page.getByText('Moments looked at: 1 of 4').waitFor();
  expect(await page.getByRole('button', { name: /^Take back/ }).textContent()).toMatch(
    /a moment called nothing/,
  );
});

it('gives each key pressed in quick succession a moment of its own', async () => {
  const { page, moments, kept } = await sheet(12);
  await moments.first().focus();
  // From within the page: by the browser's own protocol no two keys come as close.
  await page.evaluate(async () => {
    for (let i = 0; i < 12; i++) {
      const key = i % 2 === 0 ? 'n' : 'a';
      document.activeElement?.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
      await new Promise((done) => setTimeout(done, 3));
    }
  });
  await page.getByText('Moments looked at: 12 of 12').waitFor();
  await expect.poll(() => readable(() => kept().visits.length)).toBe(6);
});

it('lays out the next sheet under the keys: the first of it is at hand', async () => {
  // Fourteen moments, so that a second sheet has two of them.
  const { page, moments } = await sheet(14);
  await moments.first().focus();
  for (let i = 0; i < 12; i++) await page.keyboard.press('n');
  await page.getByText('Moments looked at: 12 of 14').waitFor();
  await expect.poll(() => moments.count()).toBe(2);
  expect(await moments.first().evaluate((cell) => cell === document.activeElement)).toBe(true);
});

/** Undefined while there is no such file. */
function readable<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}
