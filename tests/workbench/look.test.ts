import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { axe } from '../support/axe.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** How each view looked when somebody last looked at it; made anew with PERCHMARK_LOOKS=keep. */
const LOOKS = fileURLToPath(new URL('./looks/', import.meta.url));
/** Letters differ between machines, so pictures are held against one another as small as this, and so much may differ. */
const SMALL = 80;
const MOST_DIFFERENT = 10;

const SIZES = [
  ['wide', { width: 1280, height: 900 }],
  ['narrow', { width: 360, height: 740 }],
] as const;
const THEMES = ['light', 'dark'] as const;

/** A folder with one labelled clip and a camera that suits it. */
async function folder(): Promise<string> {
  const root = scratch();
  const path = (k: number) =>
    k % 40 >= 20 && k % 40 < 30 ? { x: 2 * (k % 40) - 30, y: 20, size: 8, level: 190 } : null;
  const visits = [0, 1, 2].map((i) => ({ start: 4 + 8 * i, end: 6 + 8 * i, name: 'wren' }));
  await writeClip(join(root, 'hedge'), drawFrames(120, path, 'look'), { version: 1, visits });
  writeFileSync(join(root, 'camera.json'), JSON.stringify(smallCamera));
  return root;
}

for (const [size, window] of SIZES) {
  for (const theme of THEMES) {
    it(`every view, ${size} and ${theme}: nothing for axe to find, nothing to complain of, and as it looked before`, async () => {
      const { page, complaints } = await openPage(await served(await folder()), window, theme);
      await page.getByRole('img', { name: 'frame 1 of 120' }).waitFor();
      const views = await page
        .getByRole('navigation', { name: 'What to do' })
        .getByRole('button')
        .allTextContents();
      expect(views.length).toBeGreaterThan(1);
      for (const view of views) {
        await page
          .getByRole('navigation', { name: 'What to do' })
          .getByRole('button', { name: view, exact: true })
          .click();
        await page.getByRole('main').getByRole('heading').first().waitFor();
        await page.waitForLoadState('networkidle');
        if (view === 'Look and label') await page.getByText('at which something stirs').waitFor();
        expect({ view, found: await axe(page) }).toEqual({ view, found: [] });
        expect({
          view,
          wider: await page.evaluate(() => document.documentElement.scrollWidth > innerWidth),
        }).toEqual({
          view,
          wider: false,
        });
        await asBefore(page, `${view.toLowerCase().replaceAll(' ', '-')}-${size}-${theme}`);
      }
      expect(complaints).toEqual([]);
    });
  }
}

/** The window, held against how it looked when somebody last looked at it. */
async function asBefore(page: Page, name: string): Promise<void> {
  const shot = await page.screenshot({ animations: 'disabled', caret: 'hide' });
  const file = join(LOOKS, `${name}.png`);
  if (process.env.PERCHMARK_LOOKS === 'keep') {
    mkdirSync(LOOKS, { recursive: true });
    writeFileSync(file, await sharp(shot).resize(320).png({ palette: true, colours: 64 }).toBuffer());
    return;
  }
  if (!existsSync(file))
    throw new Error(`${file}: nobody looked at this view yet; PERCHMARK_LOOKS=keep keeps it`);
  const [now, before] = await Promise.all([small(shot), small(readFileSync(file))]);
  const different = now.reduce((sum, value, i) => sum + Math.abs(value - (before[i] ?? 0)), 0) / now.length;
  if (different > MOST_DIFFERENT) writeFileSync(file.replace(/\.png$/, '-changed.png'), shot);
  expect(different, name).toBeLessThanOrEqual(MOST_DIFFERENT);
}

async function small(png: Uint8Array): Promise<Buffer> {
  return sharp(png).resize(SMALL, SMALL, { fit: 'fill' }).greyscale().raw().toBuffer();
}
