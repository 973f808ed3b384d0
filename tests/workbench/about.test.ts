import { readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { AboutSaved, AboutState } from '../../src/workbench/about-on-disk.js';
import type { WorkspaceInfo } from '../../src/workbench/protocol.js';
import { axe } from '../support/axe.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { fillUp, smallDisk } from '../support/disk.js';
import { openPage } from '../support/page.js';
import { scratch, served } from '../support/workbench.js';

const disk = smallDisk('1m');

/** A folder with one clip of which little is said. */
async function folder(said: object = {}): Promise<{ root: string; file: string }> {
  const root = scratch();
  const frames = drawFrames(12, () => null, 'about');
  await writeClip(join(root, 'hedge'), frames, { version: 1, visits: [] }, { rate: 5, ...said });
  return { root, file: join(root, 'hedge', 'clip.json') };
}

const read = (file: string) => JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>;
const aboutAt = async (address: string) =>
  (await (await fetch(`${address}api/clips/hedge/about`)).json()) as AboutState;
const put = (address: string, about: object, base: string) =>
  fetch(`${address}api/clips/hedge/about`, { method: 'PUT', body: JSON.stringify({ about, base }) });

it('what is said of a clip stands in clip.json beside all that stood there, and what is taken back does not', async () => {
  const { root, file } = await folder({ title: 'the hedge', conditions: { wind: 3, light: 4000 } });
  writeFileSync(file, `\uFEFF${JSON.stringify({ $schema: 'clip.schema.json', ...read(file) })}`);
  const before = JSON.parse(readFileSync(file, 'utf8').slice(1)) as object;
  const address = await served(root);
  const { revision } = await aboutAt(address);
  const about = { site: 'log pile', place: { latitude: 51.5, longitude: -3.2 }, conditions: { light: 4000 } };
  const answer = await put(address, about, revision);
  expect(answer.status).toBe(200);
  expect(read(file)).toEqual({ ...before, ...about });
  expect(await answer.json()).toEqual({ ...(await aboutAt(address)), otherSpot: null });
  const { clips } = (await (await fetch(`${address}api/workspace`)).json()) as WorkspaceInfo;
  expect(clips[0]).toMatchObject({ site: 'log pile', problem: null });
});

it('what somebody else wrote meanwhile is not written over, nor is what does not fit', async () => {
  const { root, file } = await folder();
  const address = await served(root);
  const { revision } = await aboutAt(address);
  writeFileSync(file, JSON.stringify({ ...read(file), site: 'theirs' }));
  const answer = await put(address, { site: 'mine' }, revision);
  expect([answer.status, ((await answer.json()) as AboutState).about.site]).toEqual([409, 'theirs']);
  const now = await aboutAt(address);
  const wrong = await put(address, { place: { latitude: 91, longitude: 0 } }, now.revision);
  expect([wrong.status, await wrong.json()]).toMatchObject([400, { code: 'bad-field' }]);
  expect(read(file)).toMatchObject({ site: 'theirs' });
});

it('the spot of a clip that a project names is changed there alone, and what is drawn is not changed', async () => {
  const { root, file } = await folder();
  const sites = [{ site: 'log pile', clips: ['hedge'] }];
  writeFileSync(join(root, 'perchmark.json'), JSON.stringify({ version: 1, sites }));
  const address = await served(root);
  const { revision, project } = await aboutAt(address);
  expect(project).toBe('log pile');
  const saved = await put(address, { site: 'elsewhere', conditions: { wind: 4 } }, revision);
  expect(await saved.json()).toEqual({
    ...(await aboutAt(address)),
    otherSpot:
      'The project counts this clip as one of "log pile"; "elsewhere" was not written. Change that in perchmark.json.',
  });
  expect(read(file).site).toBeUndefined();
  expect(read(file).conditions).toEqual({ wind: 4 });
  const demo = await served();
  const drawn = `${demo}api/clips/log-pile-calm/about`;
  expect(await (await fetch(drawn)).json()).toMatchObject({ drawn: true });
  const answer = await fetch(drawn, { method: 'PUT', body: JSON.stringify({ about: {}, base: '' }) });
  expect([answer.status, await answer.json()]).toMatchObject([
    400,
    { message: 'log-pile-calm: this clip is drawn, and what was drawn is known already' },
  ]);
});

it('a clip beside those of a project becomes one of the spot that is said', async () => {
  const { root, file } = await folder();
  const project = join(root, 'perchmark.json');
  writeFileSync(project, JSON.stringify({ version: 1, sites: [{ site: 'log pile', clips: ['calm'] }] }));
  const address = await served(root);
  const alike = await put(address, { site: 'Log pile' }, (await aboutAt(address)).revision);
  expect([alike.status, read(file).site]).toEqual([400, undefined]);
  const answer = await put(address, { site: 'log pile' }, (await aboutAt(address)).revision);
  expect(await answer.json()).toEqual({ ...(await aboutAt(address)), otherSpot: null });
  expect(read(project)).toEqual({ version: 1, sites: [{ site: 'log pile', clips: ['calm', 'hedge'] }] });
});

it.skipIf(disk.path === null)(
  'what is saved in clip.json is told as saved where the project cannot be written, and may be saved again',
  async () => {
    const { root, file } = await folder();
    const kept = join(disk.path!, 'kept.json');
    writeFileSync(kept, JSON.stringify({ version: 1, sites: [] }));
    symlinkSync(kept, join(root, 'perchmark.json'));
    const filler = join(disk.path!, 'filler');
    fillUp(filler);
    const address = await served(root);
    const save = async (base: string) => {
      const answer = await put(address, { site: 'log pile', conditions: { wind: 3 } }, base);
      return { status: answer.status, saved: (await answer.json()) as AboutSaved };
    };
    const first = await save((await aboutAt(address)).revision);
    expect(first.status).toBe(200);
    expect(first.saved.otherSpot).toContain('It is not in the project yet (');
    expect(first.saved.otherSpot).toContain('cannot be written (ENOSPC)');
    expect(read(file)).toMatchObject({ site: 'log pile', conditions: { wind: 3 } });
    rmSync(filler);
    const again = await save(first.saved.revision);
    expect(again).toMatchObject({ status: 200, saved: { project: 'log pile', otherSpot: null } });
    expect(read(kept).sites).toHaveLength(1);
  },
);

it('on the page it is said by the clip, by keys, and put right later; a moment that is left alone keeps its fraction', async () => {
  const start = '2026-05-04T06:10:00.250Z';
  const { root, file } = await folder({ start, conditions: { wind: 2.5 } });
  const { page, complaints } = await openPage(await served(root), { width: 360, height: 740 });
  await page.getByRole('img', { name: 'frame 1 of 12' }).waitFor();
  await page.getByText('About this clip: not said yet: where on earth, rain, light').press('Enter');
  expect(await page.getByLabel('The wind then').inputValue()).toBe('2.5');
  expect(await page.getByLabel('It began at').inputValue()).toMatch(/^2026-05-04T06:10/);
  await page.getByLabel(/^Where the camera hung/).fill('log pile');
  await page.getByLabel(/^Latitude/).fill('51.5');
  await page.getByLabel(/^Longitude/).fill('-3.2');
  await page.getByLabel('The rain then').selectOption({ label: 'drizzle' });
  expect(await axe(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)).toBe(false);
  await page.getByRole('button', { name: 'Save what is said of it' }).press('Enter');
  await page.getByText('Saved in clip.json.').waitFor();
  expect(read(file)).toMatchObject({
    site: 'log pile',
    start,
    place: { latitude: 51.5, longitude: -3.2 },
    conditions: { wind: 2.5, rain: 0.3 },
  });
  await page.getByRole('navigation', { name: 'Clips' }).getByText('log pile, 0 visits').waitFor();
  await page.getByLabel(/^By a clock that is ahead/).selectOption('+01:00');
  await page.getByLabel('The wind then').selectOption({ label: 'not known' });
  await page.getByRole('button', { name: 'Save what is said of it' }).press('Enter');
  await page.getByText('About this clip: not said yet: wind, light').waitFor();
  expect(read(file)).toMatchObject({ start: '2026-05-04T06:10:00+01:00', conditions: { rain: 0.3 } });
  expect(complaints).toEqual([]);
});
