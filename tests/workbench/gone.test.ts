import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

it('says when the program has ended, when it is back, and when it has moved', async () => {
  const folder = scratch();
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(4, () => null, 'gone'),
    null,
  );
  const { page } = await openPage(await served(folder));
  const says = (text: RegExp) => page.getByRole('status').filter({ hasText: text }).waitFor();
  /** As when somebody comes back to the page. */
  const look = () => page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  let asked = 0;
  let answer: 'none' | 'refused' = 'none';
  await page.route('**/api/alive', (route) => {
    asked++;
    if (answer === 'none') return route.abort();
    return route.fulfill({ status: 404, json: { code: 'refused', message: 'no' } });
  });
  await look();
  await says(/has ended: start it again/);
  // It goes on asking by itself, but not in a flood.
  await expect.poll(() => asked).toBeGreaterThanOrEqual(2);
  expect(asked).toBeLessThan(6);
  answer = 'refused';
  await look();
  await says(/another address/);
  await page.unroute('**/api/alive');
  await look();
  await says(/is back/);
  await expect.poll(() => page.getByText(/is back/).count()).toBe(0);
});

it('tells a program that is busy from one that has ended', async () => {
  const folder = scratch();
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(4, () => null, 'gone'),
    null,
  );
  const { page } = await openPage(await served(folder));
  await page.getByRole('img', { name: 'frame 1 of 4' }).waitFor();
  let isBusy = true;
  await page.route('**/api/alive', (route) => (isBusy ? undefined : route.continue()));
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.getByText(/is busy and takes its time/).waitFor();
  expect(await page.getByText(/has ended/).count()).toBe(0);
  isBusy = false;
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await expect.poll(() => page.getByText(/is busy/).count()).toBe(0);
});
