import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import type { WorkspaceInfo } from '../../src/workbench/protocol.js';
import { post, resultOf } from '../support/asked.js';
import { drawFrames, small, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';
import { scratch, served } from '../support/workbench.js';

const values = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };

/** A folder with clips at different places and a project that names some of them. */
async function garden(): Promise<string> {
  const folder = join(scratch(), 'garden');
  mkdirSync(join(folder, 'may'), { recursive: true });
  for (const name of ['calm', 'may/bowl', 'by-itself', '../outside']) {
    await writeClip(
      join(folder, name),
      drawFrames(12, () => null, name),
      { version: 1, visits: [] },
    );
  }
  const sites = [
    { site: 'water bowl', clips: ['may/bowl', '../outside'] },
    { site: 'log pile', clips: ['calm', 'gone'], settings: values },
  ];
  writeFileSync(join(folder, 'perchmark.json'), JSON.stringify({ version: 1, sites }));
  return folder;
}

const workspaceAt = async (address: string) =>
  (await (await fetch(`${address}api/workspace`)).json()) as WorkspaceInfo;

it("the page has a project's clips as those of its spots, then the folder's others, and its settings in use", async () => {
  const folder = await garden();
  const address = await served(folder);
  const { clips, settings } = await workspaceAt(address);
  expect(clips.map(({ id, site }) => [id, site])).toEqual([
    ['may/bowl', 'water bowl'],
    ['../outside', 'water bowl'],
    ['calm', 'log pile'],
    ['gone', 'log pile'],
    ['by-itself', null],
  ]);
  expect(settings).toEqual([{ name: 'in use at log pile', settings: values }]);
  const bowl = `${address}api/clips/${encodeURIComponent('may/bowl')}`;
  expect(await resultOf(await post(`${bowl}/open`))).toBeTruthy();
  const { revision } = (await (await fetch(`${bowl}/labels`)).json()) as { revision: string };
  const labels = { version: 1, visits: [{ start: 1, end: 2, type: 'animal' }] };
  const body = JSON.stringify({ labels, base: revision });
  expect((await fetch(`${bowl}/labels`, { method: 'PUT', body })).status).toBe(200);
  expect(JSON.parse(readFileSync(join(folder, 'may/bowl/labels.json'), 'utf8')).visits).toHaveLength(1);
});

it('writes into no clip outside of the folder, and says of what is not there where it was looked for', async () => {
  const address = await served(await garden());
  const { clips } = await workspaceAt(address);
  const problems = clips.flatMap(({ problem }) => problem ?? []);
  expect(problems).toEqual([
    expect.stringMatching(/outside: this clip lies outside of the opened folder/),
    expect.stringMatching(/gone\/clip\.json: .*no such file/),
  ]);
  const outside = `${address}api/clips/${encodeURIComponent('../outside')}/labels`;
  expect((await fetch(outside)).status).toBe(400);
});

it('what is brought in on the page goes into the project, by the spot that is named', async () => {
  const folder = await garden();
  const address = await served(folder);
  const { id } = (await (await post(`${address}api/bring-in`)).json()) as { id: string };
  const picture = await sharp({ create: { ...small, channels: 3, background: 'grey' } })
    .png()
    .toBuffer();
  for (const name of ['1.png', '2.png']) {
    const url = `${address}api/bring-in/${id}/files/${name}?at=0`;
    expect((await fetch(url, { method: 'PUT', body: new Uint8Array(picture) })).ok).toBe(true);
  }
  const wanted = { name: 'new', video: false, site: 'compost heap', rate: 5 };
  await resultOf(await post(`${address}api/bring-in/${id}/clip`, wanted));
  const { sites } = JSON.parse(readFileSync(join(folder, 'perchmark.json'), 'utf8'));
  expect(sites.at(-1)).toEqual({ site: 'compost heap', clips: ['new'] });
  expect((await workspaceAt(address)).clips.map((clip) => clip.id)).toContain('new');
});

it('open refuses a project that is wrong before it serves anything', async () => {
  const folder = await garden();
  writeFileSync(join(folder, 'perchmark.json'), '{ "version": 1, "sites": 5 }');
  const { code, out, err } = await commandIn(folder, scratch())('open', '--json');
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toMatch(/^perchmark: perchmark\.json: sites: expected a list in \[ \], found 5\n$/);
});
