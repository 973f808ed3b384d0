import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { drawFrames, small, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** Clips of a name and a site each, that nobody has labelled. */
async function garden(names: readonly string[], camera: object = smallCamera): Promise<string> {
  const root = scratch();
  const frames = drawFrames(20, () => null, 'ways');
  for (const name of names) await writeClip(join(root, name), frames, null, { rate: 5, site: `the ${name}` });
  writeFileSync(join(root, 'camera.json'), JSON.stringify(camera));
  return root;
}

const view = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const clips = (page: Page) => page.getByRole('navigation', { name: 'Clips' });
const heading = (page: Page, name: string) => page.getByRole('heading', { name }).waitFor();

it('loaded anew it shows the same view of the same clip, and Back leads to the view before', async () => {
  const { page, complaints } = await openPage(await served(await garden(['bowl', 'pile'])));
  await heading(page, 'bowl');
  await clips(page).getByRole('button', { name: /pile/ }).click();
  await heading(page, 'pile');
  await view(page, 'Moments').click();
  await heading(page, 'Moments of pile');
  await page.reload();
  await heading(page, 'Moments of pile');
  await view(page, 'Why').click();
  await heading(page, 'Why');
  await page.goBack();
  await heading(page, 'Moments of pile');
  await page.goBack();
  await page.getByRole('img', { name: 'frame 1 of 20' }).waitFor();
  expect(complaints).toEqual([]);
});

it('the name of a clip stays within its button, be it one long word', async () => {
  const name = 'a'.repeat(60);
  const { page } = await openPage(await served(await garden(['bowl', name])));
  const button = clips(page).getByRole('button', { name: new RegExp(name) });
  await button.waitFor();
  expect(await button.evaluate((one) => one.scrollWidth - one.clientWidth)).toBeLessThanOrEqual(0);
});

it.each(['#%E0%A4%A', '#moments/no-such-clip', '#view'])(
  'an address that ends in %s opens the first clip',
  async (hash) => {
    const address = await served(await garden(['bowl', 'pile']));
    const { page, complaints } = await openPage(`${address}${hash}`);
    await clips(page).locator('[aria-current=true]', { hasText: 'bowl' }).waitFor();
    expect(complaints).toEqual([]);
  },
);

it('from where nothing can be told without labels a button leads to the clip that wants them', async () => {
  const { page } = await openPage(await served(await garden(['bowl', 'pile'])));
  await heading(page, 'bowl');
  const tick = page.getByRole('button', { name: 'Tick pictures in Moments' });
  for (const name of ['Dials', 'Why']) {
    await view(page, name).click();
    await tick.click();
    await heading(page, 'Moments of bowl');
  }
  // That of the spot that is asked about, not the one that is open.
  await view(page, 'Answer').click();
  await page.getByRole('combobox', { name: /^At/ }).selectOption({ label: 'the pile' });
  await tick.click();
  await heading(page, 'Moments of pile');
});

it('says of a recording that it is smaller and slower than what the camera compares', async () => {
  const camera = { ...smallCamera, analysis: { width: 2 * small.width, height: 2 * small.height, rate: 10 } };
  const { page } = await openPage(await served(await garden(['bowl'], camera)));
  const notes = page.getByRole('list', { name: 'What to know of bowl' }).getByRole('listitem');
  for (const name of ['Look and label', 'Dials']) {
    await view(page, name).click();
    await notes.first().waitFor();
    expect(await notes.allTextContents()).toEqual([
      expect.stringMatching(/^bowl: recorded at 64 x 48 pixels, small camera compares 128 x 96: /),
      expect.stringMatching(/^bowl: recorded at 5 frames a second, small camera looks at 10: /),
    ]);
  }
});

it('in a narrow window many clips take one row, with the open one in sight', async () => {
  const names = Array.from({ length: 9 }, (_, i) => `clip-${i}`);
  const address = await served(await garden(names));
  const { page } = await openPage(`${address}#moments/clip-7`, { width: 360, height: 740 });
  await heading(page, 'Moments of clip-7');
  const boxes = await Promise.all(
    names.map((name) =>
      clips(page)
        .getByRole('button', { name: new RegExp(name) })
        .boundingBox(),
    ),
  );
  expect(new Set(boxes.map((box) => box?.y)).size).toBe(1);
  expect(boxes[7]!.x).toBeGreaterThanOrEqual(0);
  expect(boxes[7]!.x + boxes[7]!.width).toBeLessThanOrEqual(360);
});
