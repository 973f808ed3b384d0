import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

/** A folder of stills, as a camera would leave it. */
async function stills(): Promise<string> {
  const folder = join(scratch(), 'a day in May');
  await writeClip(
    folder,
    drawFrames(12, () => null, 'bring in'),
    null,
  );
  return join(folder, 'frames');
}

it('a folder of pictures becomes a clip of the opened folder; the pictures stay as they are', async () => {
  const [folder, from] = [scratch(), await stills()];
  const before = readdirSync(from);
  const { page, complaints } = await openPage(await served(folder));
  await page.getByLabel('A folder of pictures').setInputFiles(from);
  await page.getByText('12 pictures').waitFor();
  await page.getByLabel('What to call the clip').fill('hedge');
  await page.getByLabel(/Where the camera hung/).fill('log pile');
  await page.getByLabel('pictures a second').fill('4');
  await page.getByLabel('It began at').fill('2026-05-04T06:10:00');
  await page.getByLabel(/^By a clock that is ahead/).selectOption('+01:00');
  await page.getByLabel(/^Latitude/).fill('51.5');
  await page.getByText(/^Where on earth: expected degrees/).waitFor();
  await page.getByLabel(/^Longitude/).fill('-3.2');
  await page.getByLabel('The wind then').selectOption({ label: '2 light breeze: leaves rustle' });
  await page.getByLabel('The rain then').selectOption({ label: 'dry' });
  await page.getByLabel(/^The light then/).selectOption({ label: 'day, overcast' });
  await page.getByRole('button', { name: 'Make a clip of it' }).click();
  await page.getByText('hedge is a clip now: 0:03 long, 12 pictures, 4 a second.').waitFor();
  // It is the only one, so every view shows it.
  await page.getByRole('button', { name: 'Moments', exact: true }).click();
  await page.getByRole('navigation', { name: 'Clips' }).locator('[aria-current=true]').waitFor();
  await page.getByRole('button', { name: 'Bring in', exact: true }).click();
  await page.getByRole('button', { name: 'Look at it' }).click();
  await page.getByRole('img', { name: 'frame 1 of 12' }).waitFor();
  expect(JSON.parse(readFileSync(join(folder, 'hedge', 'clip.json'), 'utf8'))).toMatchObject({
    site: 'log pile',
    rate: 4,
    start: '2026-05-04T06:10:00+01:00',
    place: { latitude: 51.5, longitude: -3.2 },
    conditions: { wind: 2, rain: 0, light: 10_000 },
  });
  expect(readdirSync(folder)).toEqual(['hedge']);
  expect(readdirSync(from)).toEqual(before);
  expect(complaints).toEqual([]);
});

it('pictures that do not tell their time: the page says so before anything is sent, and asks for the rate', async () => {
  const folder = scratch();
  const { page } = await openPage(await served(folder));
  await page.getByLabel('A folder of pictures').setInputFiles(await stills());
  await page.getByText(/does not tell when it was taken/).waitFor();
  expect(await page.getByRole('radio', { name: /Evenly/ }).isChecked()).toBe(true);
  // Whoever knows better is told by the server.
  await page.getByRole('radio', { name: /As the pictures say/ }).check();
  await page.getByRole('button', { name: 'Make a clip of it' }).click();
  await page.getByText(/; choose “Evenly” below, and say how many were taken a second$/).waitFor();
  expect(readdirSync(folder)).toEqual([]);
});

it('a clip that is there is not written over', async () => {
  const folder = scratch();
  mkdirSync(join(folder, 'hedge'));
  writeFileSync(join(folder, 'hedge', 'notes.txt'), 'mine');
  const { page } = await openPage(await served(folder));
  await page.getByLabel('A folder of pictures').setInputFiles(await stills());
  await page.getByLabel('What to call the clip').fill('hedge');
  await page.getByLabel('pictures a second').fill('4');
  await page.getByRole('button', { name: 'Make a clip of it' }).click();
  await page.getByText('hedge: the folder already holds 1 entry').waitFor();
  expect(readdirSync(join(folder, 'hedge'))).toEqual(['notes.txt']);
});

it('the size of the pictures can be chosen as offered, and a dial is put right while it is typed', async () => {
  const { page } = await openPage(await served(scratch()));
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await page.getByRole('radio', { name: '160 by 120 pixels' }).check();
  const keep = page.getByRole('button', { name: 'Keep it' });
  expect(await keep.isEnabled()).toBe(true);
  const dial = page.getByRole('group', { name: 'mostChanged' });
  await dial.getByLabel('stands at one of').fill('5000, 20000');
  await dial.getByText('mostChanged: expected a number from 1 to 19200').waitFor();
  expect(await keep.isEnabled()).toBe(false);
  await dial.getByLabel('stands at one of').fill('5000, 9000');
  await expect.poll(() => keep.isEnabled()).toBe(true);
});

it('the camera is kept in camera.json of the opened folder, and one that somebody else wrote is not lost', async () => {
  const folder = scratch();
  const { page, complaints } = await openPage(await served(folder));
  await page.getByRole('button', { name: 'Camera', exact: true }).click();
  await page.getByLabel('times a second').fill('4');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByText('Kept in camera.json.').waitFor();
  const file = join(folder, 'camera.json');
  const camera = JSON.parse(readFileSync(file, 'utf8')) as { analysis: { rate: number } };
  expect(camera.analysis.rate).toBe(4);
  const theirs = JSON.stringify({ ...camera, name: 'theirs' });
  writeFileSync(file, theirs);
  await page.getByLabel('times a second').fill('3');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByText('Somebody changed camera.json meanwhile').waitFor();
  expect(readFileSync(file, 'utf8')).toBe(theirs);
  expect(complaints.filter((line) => !line.includes('409'))).toEqual([]);
});

it.each([
  ['a name that leads out', '..%2Fescaped.jpg'],
  ['a hidden name', '.bashrc'],
])('%s is refused', async (_, name) => {
  const folder = scratch();
  const address = await served(folder);
  const { id } = (await (await fetch(`${address}api/bring-in`, { method: 'POST' })).json()) as { id: string };
  const answer = await fetch(`${address}api/bring-in/${id}/files/${name}?at=0`, { method: 'PUT', body: 'x' });
  expect(answer.status).toBe(400);
  expect(await answer.json()).toMatchObject({ code: 'bad-field' });
  expect(existsSync(join(folder, 'escaped.jpg'))).toBe(false);
});
