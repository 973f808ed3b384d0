import { once } from 'node:events';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { start } from '../support/program.js';
import { scratch, served } from '../support/workbench.js';

/** Sends one file as a recording that is on its way. */
async function begin(address: string): Promise<string> {
  const begun = await fetch(`${address}api/bring-in`, { method: 'POST' });
  const { id } = (await begun.json()) as { id: string };
  const url = `${address}api/bring-in/${id}`;
  await fetch(`${url}/files/a.jpg?at=0`, { method: 'PUT', body: Uint8Array.of(1, 2, 3) });
  return url;
}

it.each(['camera.json', 'labels.json', 'garden.JSON'])('no clip is made under the name %s', async (name) => {
  const folder = scratch();
  const url = await begin(await served(folder));
  const body = JSON.stringify({ name, video: false, rate: 5 });
  const answer = await fetch(`${url}/clip`, { method: 'POST', body });
  expect([answer.status, await answer.json()]).toEqual([
    400,
    {
      code: 'bad-field',
      message: `name: ${name} is the name of a file, and a clip is a folder; leave out the ending .json`,
    },
  ]);
  expect(readdirSync(folder).filter((entry) => !entry.startsWith('.'))).toEqual([]);
});

it('a clip folder is one whatever its name', async () => {
  const folder = scratch();
  await writeClip(
    join(folder, 'garden.json'),
    drawFrames(6, () => null, 'garden'),
    { version: 1, visits: [] },
  );
  const address = await served(folder);
  const listed = (await (await fetch(`${address}api/workspace`)).json()) as { clips: object[] };
  expect(listed.clips).toMatchObject([{ id: 'garden.json', visits: 0, problem: null }]);
  const opened = await (await fetch(`${address}api/clips/garden.json/open`, { method: 'POST' })).text();
  expect(opened).toContain('"result"');
});

it.each(['SIGTERM', 'SIGKILL'] as const)(
  'what was on its way is removed when the program ends by %s, or when it starts again',
  async (signal) => {
    const folder = scratch();
    const { child, address } = await start(folder);
    await begin(address);
    expect(readdirSync(folder)).toHaveLength(1);
    child.kill(signal);
    await once(child, 'exit');
    if (signal === 'SIGKILL') await start(folder);
    expect(readdirSync(folder)).toEqual([]);
  },
);
