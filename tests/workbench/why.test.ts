import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { parseJson } from '../../src/base/json.js';
import { labelsSchema } from '../../src/score/labels.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** Two bright crossings, a faint one, and a patch in the lower left corner that goes to and fro between them. */
async function folder(): Promise<string> {
  const root = scratch();
  const crossing = (k: number, level: number) => ({ x: 10 + 4 * (k % 10), y: 10, size: 8, level });
  const frames = drawFrames(
    300,
    (k) => {
      if ((k >= 40 && k < 50) || (k >= 200 && k < 210)) return crossing(k, 190);
      if (k >= 120 && k < 130) return crossing(k, 120);
      return k % 25 < 10 && !(k > 110 && k < 140) ? { x: k % 2 ? 2 : 6, y: 38, size: 8, level: 60 } : null;
    },
    'why',
  );
  const visits = [
    { start: 8, end: 10.2, name: 'wren' },
    { start: 24, end: 26, name: 'moorhen' },
    { start: 40, end: 42.2, name: 'blackbird' },
  ];
  await writeClip(join(root, 'hedge'), frames, { version: 1, visits });
  writeFileSync(join(root, 'camera.json'), JSON.stringify(smallCamera));
  return root;
}

const labelsIn = (root: string) => {
  const file = join(root, 'hedge', 'labels.json');
  return parseJson(readFileSync(file, 'utf8'), file, labelsSchema, 'labels');
};

async function shown(page: Page, view: string): Promise<void> {
  const views = page.getByRole('navigation', { name: 'What to do' });
  await page.getByRole('img', { name: 'frame 1 of 300' }).waitFor();
  await views.getByRole('button', { name: view, exact: true }).click();
}

it('a missed visit is told with its reason and what would have caught it, one press and undone', async () => {
  const root = await folder();
  const { page, complaints } = await openPage(await served(root));
  await shown(page, 'Why');
  const missed = page.getByRole('option', { name: /moorhen missed/ });
  await missed.click();
  const told = page.locator('.told');
  await told.getByText(/Too faint\..*wants/).waitFor();
  await told.getByText(/Caught with sensitivity \d instead of 3/).waitFor();
  const turn = told.getByRole('button', { name: /Turn sensitivity to \d/ });
  await turn.click();
  await missed.waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Undo that' }).click();
  await missed.waitFor();
  // The answer was kept, so that it is there at once, without asking.
  await missed.click();
  await told.getByText(/Too faint/).waitFor();
  expect(complaints).toEqual([]);
});

it('a photo of nothing is told by keyboard alone, and the owner knows better', async () => {
  const root = await folder();
  const { page, complaints } = await openPage(await served(root));
  await shown(page, 'Why');
  await page.getByRole('option').first().waitFor();
  await page.keyboard.press('n');
  const first = page.getByRole('option').first();
  await expect.poll(() => first.getAttribute('aria-selected')).toBe('true');
  await page.getByText(/the frame that fired, what fired is framed/).waitFor();
  const shadow = page.getByRole('button', { name: 'moving shadow', exact: true });
  await shadow.focus();
  await page.keyboard.press('Enter');
  await expect.poll(() => shadow.getAttribute('aria-pressed')).toBe('true');
  await expect.poll(() => labelsIn(root).causes).toHaveLength(1);
  expect(labelsIn(root).causes?.[0]?.cause).toBe('shadow');
  await first.focus();
  await page.keyboard.press('End');
  await expect.poll(() => page.getByRole('option').last().getAttribute('aria-selected')).toBe('true');
  await page.getByLabel(/Learn from what you said/).check();
  await page
    .getByText(/Too little to tell whether your corrections help: labels.json tells the cause of 1 of/)
    .waitFor();
  expect(complaints).toEqual([]);
});

it('a mask that would help is put on with one press: what it does is shown before, and it can be undone', async () => {
  const root = await folder();
  const { page, complaints } = await openPage(await served(root));
  await shown(page, 'Why');
  await page
    .getByRole('option', { name: /photo of nothing/ })
    .first()
    .click();
  const help = page.locator('.helps li', { hasText: /^Mask/ }).first();
  await help.getByText(/false triggers gone, 0 of \d visits lost/).waitFor();
  const before = await page.getByRole('option', { name: /photo of nothing/ }).count();
  await help.getByRole('button', { name: 'Put this mask on' }).click();
  await expect
    .poll(() => page.getByRole('option', { name: /photo of nothing/ }).count())
    .toBeLessThan(before);
  await expect.poll(() => labelsIn(root).mask?.length).toBeGreaterThan(0);
  await page.getByRole('button', { name: 'Undo that' }).click();
  await expect.poll(() => page.getByRole('option', { name: /photo of nothing/ }).count()).toBe(before);
  await expect.poll(() => labelsIn(root).mask).toBeUndefined();
  expect(complaints).toEqual([]);
});

it('a mask is drawn and moved by keyboard, saved, and told with what it changes', async () => {
  const root = await folder();
  const { page, complaints } = await openPage(await served(root));
  await shown(page, 'Mask and foliage');
  await page.getByText('Nothing is masked yet.').waitFor();
  await page.keyboard.press('m');
  const picture = page.getByRole('application');
  await expect.poll(() => picture.getAttribute('aria-label')).toContain('Drawing, 0 corners');
  const move = async (key: string, times: number) => {
    for (let i = 0; i < times; i++) await page.keyboard.press(key);
  };
  // From the middle to the lower left corner, and around it.
  await move('Shift+ArrowLeft', 10);
  await move('Shift+ArrowDown', 4);
  await page.keyboard.press('Space');
  await move('Shift+ArrowRight', 6);
  await page.keyboard.press('Space');
  await move('Shift+ArrowDown', 6);
  await page.keyboard.press('Space');
  await move('Shift+ArrowLeft', 6);
  await page.keyboard.press('Space');
  await page.keyboard.press('c');
  await page.getByText(/^\d+ false triggers? gone, 0 visits lost$/).waitFor();
  await expect
    .poll(() => labelsIn(root).mask)
    .toEqual([
      [
        [0, 0.7],
        [0.3, 0.7],
        [0.3, 1],
        [0, 1],
      ],
    ]);
  await page.getByRole('button', { name: 'mask 1, corner 2 of 4: 30 % across, 70 % down' }).focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(() => labelsIn(root).mask?.[0]?.[1]).toEqual([0.35, 0.7]);
  await page.keyboard.press('a');
  await expect.poll(() => labelsIn(root).mask?.[0]).toHaveLength(5);
  await page.keyboard.press('Delete');
  await expect.poll(() => labelsIn(root).mask?.[0]).toHaveLength(4);
  for (const left of [5, 4, 4, 0]) {
    await page.keyboard.press('Control+z');
    await expect.poll(() => labelsIn(root).mask?.[0]?.length ?? 0).toBe(left);
  }
  await page.getByText('Nothing is masked yet.').waitFor();
  expect(complaints).toEqual([]);
});

it('foliage is drawn by pointer, closed at its first corner, and a corner is pulled', async () => {
  const root = await folder();
  const { page, complaints } = await openPage(await served(root));
  await shown(page, 'Mask and foliage');
  await page.getByRole('button', { name: 'Draw foliage' }).click();
  const box = (await page.getByRole('application').boundingBox())!;
  const at = (x: number, y: number) => [box.x + x * box.width, box.y + y * box.height] as const;
  for (const [x, y] of [
    [0.1, 0.1],
    [0.5, 0.1],
    [0.5, 0.5],
    [0.1, 0.1],
  ] as const)
    await page.mouse.click(...at(x, y));
  await expect.poll(() => labelsIn(root).foliage?.[0]).toHaveLength(3);
  const corner = page.getByRole('button', { name: /foliage 1, corner 3 of 3/ });
  const from = (await corner.boundingBox())!;
  await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
  await page.mouse.down();
  const stage = (await page.getByRole('application').boundingBox())!;
  await page.mouse.move(stage.x + 0.8 * stage.width, stage.y + 0.9 * stage.height, { steps: 4 });
  await page.mouse.up();
  await expect
    .poll(() => labelsIn(root).foliage?.[0]?.[2])
    .toEqual([expect.closeTo(0.8, 2), expect.closeTo(0.9, 2)]);
  expect(labelsIn(root).mask).toBeUndefined();
  expect(complaints).toEqual([]);
});
