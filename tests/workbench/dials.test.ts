import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { resolveSettings } from '../../src/camera/settings.js';
import { replay } from '../../src/jobs/index.js';
import { Cache } from '../../src/store/cache.js';
import { scoreText } from '../../src/words/score-wording.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** Faint at first, plain later; in between something that is no animal. */
const walks = (k: number) => {
  const at = (level: number) => ({ x: (3 * k) % 50, y: 20, size: 8, level });
  if (k >= 20 && k < 30) return at(122);
  if (k >= 50 && k < 55) return at(190);
  return k >= 80 && k < 90 ? at(200) : null;
};
const labels = {
  version: 1,
  visits: [
    { start: 4, end: 6, name: 'wren' },
    { start: 16, end: 18, name: 'blackbird' },
  ],
};

/** A folder with one clip, opened at its dials. */
async function hedge(given: object | null = labels, other: object = {}) {
  const folder = scratch();
  const camera = cameraSchema.parse({ ...smallCamera, ...other });
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(camera));
  const dir = await writeClip(join(folder, 'hedge'), drawFrames(120, walks, 'dials'), given);
  const { page, complaints } = await openPage(await served(folder));
  await page.getByRole('button', { name: /hedge/ }).click();
  await page.getByRole('button', { name: 'Dials', exact: true }).click();
  return { folder, dir, camera, page, complaints };
}

const these = (page: Page) => page.getByRole('region', { name: 'These dials' }).getByRole('status');
const dial = (page: Page, name: string) => page.getByRole('slider', { name, exact: true });

/** What the program says of the same settings, in the words of the page. */
async function told(dir: string, camera: Camera, controls: Record<string, number>): Promise<string> {
  const cache = new Cache(scratch());
  const { total } = await replay({ clips: [dir], camera, settings: { version: 1, controls } }, { cache });
  return scoreText(total, resolveSettings({ version: 1, controls }, camera, 'settings'), camera.burst.photos);
}

it('a dial is turned by keys, says what it means, and the score follows and is that of perchmark replay', async () => {
  const { page, dir, camera, complaints } = await hedge();
  const sensitivity = dial(page, 'sensitivity');
  await sensitivity.focus();
  const seen = new Set<string>();
  for (const [key, position, meaning] of [
    ['Home', 1, 'a pixel must change by 60 of 255'],
    ['ArrowUp', 2, 'a pixel must change by 46 of 255'],
    ['End', 5, 'a pixel must change by 4 of 255'],
    ['PageDown', 3, 'a pixel must change by 32 of 255'],
  ] as const) {
    await page.keyboard.press(key);
    await expect
      .poll(() => sensitivity.getAttribute('aria-valuetext'))
      .toBe(`sensitivity ${position}: ${meaning}`);
    expect(await sensitivity.getAttribute('aria-valuenow')).toBe(String(position));
    const text = await told(dir, camera, { sensitivity: position, minimumArea: 16, cooldown: 1 });
    seen.add(text);
    await expect.poll(() => these(page).textContent()).toBe(text);
  }
  // Else the score would be right without following.
  expect(seen.size).toBeGreaterThan(1);
  expect(complaints).toEqual([]);
});

it('a dial is turned by pointer', async () => {
  const { page } = await hedge();
  const sensitivity = dial(page, 'sensitivity');
  const box = (await sensitivity.locator('circle').boundingBox())!;
  await page.mouse.move(box.x + box.width * 0.9, box.y + box.height * 0.95);
  await page.mouse.down();
  await expect.poll(() => sensitivity.getAttribute('aria-valuenow')).toBe('5');
  await page.mouse.move(box.x + box.width / 2, box.y + 2);
  await page.mouse.up();
  await expect.poll(() => sensitivity.getAttribute('aria-valuenow')).toBe('3');
});

it('two groups of settings stand side by side, visit by visit', async () => {
  const { page } = await hedge();
  await page.getByText(/^Against the dials at their middle: /).waitFor();
  await dial(page, 'sensitivity').focus();
  await page.keyboard.press('Home');
  await page.getByRole('button', { name: /^Keep these/ }).click();
  await dial(page, 'sensitivity').focus();
  await page.keyboard.press('End');
  const difference = page.getByRole('region', { name: 'These dials against the dials as you kept them' });
  await difference.getByText(/1 visit gained, 0 lost/).waitFor();
  await difference.getByRole('button', { name: 'wren at 0:04' }).waitFor();
  await page.getByRole('button', { name: 'Set the dials to these' }).click();
  await expect.poll(() => dial(page, 'sensitivity').getAttribute('aria-valuenow')).toBe('1');
  await difference.getByText(/the same visits; as many false triggers/).waitFor();
});

/** The wren, where nothing is seen of it, and the blackbird, where it is. */
const boxed = {
  version: 1,
  visits: [
    { start: 4, end: 6, name: 'wren', box: [0, 0, 0.2, 0.2] },
    { start: 16, end: 18, name: 'blackbird', box: [0, 0.3, 1, 0.5] },
  ],
};
/** Half of the picture, and of what is seen in it. */
const mask = [
  [
    [0, 0],
    [1, 0],
    [1, 0.5],
    [0, 0.5],
  ],
];

it('visits caught by luck are told apart, as perchmark replay does, and where the box is moved, anew', async () => {
  const { page, dir, camera, complaints } = await hedge(boxed);
  await dial(page, 'sensitivity').focus();
  await page.keyboard.press('End');
  const controls = { sensitivity: 5, minimumArea: 16, cooldown: 1 };
  const text = await told(dir, camera, controls);
  expect(text).toContain('caught 2 of 2 visits');
  expect(text).toContain('1 of them by luck');
  await expect.poll(() => these(page).textContent()).toBe(text);
  // Another program puts the box where the wren was.
  const [wren, blackbird] = boxed.visits;
  const right = { ...boxed, visits: [{ ...wren, box: [0, 0.3, 1, 0.5] }, blackbird] };
  writeFileSync(join(dir, 'labels.json'), JSON.stringify(right));
  await page.evaluate(() => window.dispatchEvent(new Event('focus')));
  await expect.poll(() => these(page).textContent()).toBe(await told(dir, camera, controls));
  expect(await these(page).textContent()).not.toContain('by luck');
  expect(complaints).toEqual([]);
});

it('settings with a mask of their own are tried under it, beside others that are not, and take it along', async () => {
  const { folder, page, dir, camera, complaints } = await hedge();
  const controls = { sensitivity: 4, minimumArea: 64, cooldown: 1 };
  const file = join(folder, 'masked.json');
  writeFileSync(file, JSON.stringify({ version: 1, controls, mask }));
  await page.reload();
  await page.getByRole('button', { name: 'Dials', exact: true }).click();
  const with_ = async (settings: string | object) => {
    const { total } = await replay(
      { clips: [dir], camera, settings: settings as string },
      { cache: new Cache(scratch()) },
    );
    return scoreText(
      total,
      resolveSettings({ version: 1, controls }, camera, 'settings'),
      camera.burst.photos,
    );
  };
  const masked = await with_(file);
  const bare = await with_({ version: 1, controls });
  expect(masked).not.toBe(bare);
  const held = page.getByRole('region', { name: 'Held against' });
  await held.getByRole('combobox').selectOption('file masked');
  await held.getByText(masked).waitFor();
  // The dials stay under the mask of the labels until the file's is taken over.
  const now = { sensitivity: 3, minimumArea: 16, cooldown: 1 };
  await expect.poll(() => these(page).textContent()).toBe(await told(dir, camera, now));
  await page.getByRole('button', { name: 'Set the dials to these' }).click();
  await page.getByText('Under the mask that came with these settings (1 shape)').waitFor();
  await expect.poll(() => these(page).textContent()).toBe(masked);
  await page.getByLabel('Save these settings as').fill('again');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText(/Saved in .*again\.json/).waitFor();
  expect(await with_(join(folder, 'again.json'))).toBe(masked);
  await page.getByRole('button', { name: "Back to the labels' mask" }).click();
  await expect.poll(() => these(page).textContent()).toBe(bare);
  expect(complaints).toEqual([]);
});

it('of many missed visits the first are shown, and all of them when asked for', async () => {
  const visits = Array.from({ length: 10 }, (_, i) => ({ start: 2 * i, end: 2 * i + 1, name: 'wren' }));
  const { page } = await hedge({ version: 1, visits });
  await dial(page, 'minimumArea').focus();
  await page.keyboard.press('End');
  await dial(page, 'sensitivity').focus();
  await page.keyboard.press('Home');
  const missed = page.getByRole('region', { name: 'These dials', exact: true }).getByRole('listitem');
  await page.getByRole('button', { name: /^and [12] more$/ }).click();
  await page.getByRole('button', { name: 'fewer' }).waitFor();
  expect(await missed.count()).toBeGreaterThan(9);
  await page.getByRole('button', { name: 'fewer' }).click();
  await expect.poll(() => missed.count()).toBe(9);
});

it('the photos it would have taken lead to their frames, with the verdict in words', async () => {
  const { page } = await hedge();
  const photo = page.getByRole('button', { name: /blackbird, caught/ });
  await photo.first().click();
  await page.getByRole('img', { name: /^frame 8\d of 120/ }).waitFor();
  await page
    .getByRole('button', { name: /nothing/ })
    .first()
    .waitFor();
});

it('what changed in the frame is told at the threshold of the dials', async () => {
  const { page } = await hedge();
  await page
    .getByRole('button', { name: /blackbird, caught/ })
    .first()
    .click();
  const note = page.getByText(/Hatched: \d+ pixels that changed/);
  await note.waitFor();
  const before = await note.textContent();
  await dial(page, 'sensitivity').focus();
  await page.keyboard.press('End');
  await expect.poll(() => note.textContent()).not.toBe(before);
});

it('choosing on the front sets the dials, by keys and by pointer', async () => {
  const { page } = await hedge();
  const front = page.getByRole('slider', { name: /no others beat/ });
  await front.focus();
  await page.keyboard.press('End');
  await expect.poll(() => front.getAttribute('aria-valuetext')).toMatch(/^caught 2 of 2 visits/);
  const [score] = (await front.getAttribute('aria-valuetext'))!.split(': ');
  await expect.poll(() => these(page).textContent()).toBe(score);
  await front.scrollIntoViewIfNeeded();
  const box = (await front.boundingBox())!;
  await front.click({ position: { x: box.width * 0.12, y: box.height * 0.8 } });
  await expect.poll(() => front.getAttribute('aria-valuenow')).toBe('1');
  await expect.poll(() => front.getAttribute('aria-valuetext')).not.toMatch(/none of them|2 of 2/);
});

it('without labels it says so and why', async () => {
  const { page } = await hedge(null);
  await these(page)
    .getByText(/Without labels nothing can be said/)
    .waitFor();
  await page
    .getByRole('button', { name: /not labelled/ })
    .nth(1)
    .waitFor();
});

it('a camera whose reference waits for its triggers cannot be tried: one line says so', async () => {
  const { page, complaints } = await hedge(labels, {
    reference: { kind: 'previous', lag: 1, whileBusy: 'frozen' },
  });
  await page.getByText(/depends on when it fires .*cannot be tried here; Answer still works/).waitFor();
  expect(await page.getByRole('slider', { name: 'sensitivity' }).count()).toBe(0);
  expect(complaints).toEqual([]);
});
