import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

/** As an editor saves it that is not set to UTF-8. */
const latin = (value: object) => Buffer.from(JSON.stringify(value), 'latin1');
const NO_UTF8 = /expected UTF-8 text, found bytes that are none; save it as UTF-8/;

async function hedge(): Promise<{ folder: string; labels: string; ask: Ask }> {
  const folder = scratch();
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(6, () => null, 'on disk'),
    { version: 1, visits: [] },
  );
  const address = await served(folder);
  const ask: Ask = async (method, path, body) => {
    const answer = await fetch(`${address}api/${path}`, {
      method,
      ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    // Of what is streamed the last line counts.
    const lines = (await answer.text()).trim().split('\n');
    return { status: answer.status, said: JSON.parse(lines.at(-1)!) };
  };
  return { folder, labels: join(folder, 'hedge', 'labels.json'), ask };
}

type Ask = (
  method: string,
  path: string,
  body?: object | string,
  // biome-ignore lint/suspicious/noExplicitAny: whatever the server answers
) => Promise<{ status: number; said: any }>;

it('labels that somebody saves in another encoding are refused as when a clip is opened, and stay', async () => {
  const { labels, ask } = await hedge();
  const { said } = await ask('GET', 'clips/hedge/labels');
  const saved = latin({ version: 1, visits: [{ start: 0, end: 1, name: 'M\u00f6we' }] });
  writeFileSync(labels, saved);
  const bodies = [said.revision, ''].map((base) => ({ labels: said.labels, base }));
  for (const [method, body] of [['GET'], ['PUT', bodies[0]], ['PUT', bodies[1]]] as const) {
    expect(await ask(method, 'clips/hedge/labels', body)).toMatchObject({
      status: 400,
      said: { code: 'not-json', message: expect.stringMatching(NO_UTF8) },
    });
  }
  expect(readFileSync(labels).equals(saved)).toBe(true);
});

it('a camera in another encoding is refused, and stays', async () => {
  const { folder, ask } = await hedge();
  const { said } = await ask('GET', 'camera');
  const saved = latin({ ...said.camera, name: 'Gr\u00fcn' });
  const file = join(folder, 'camera.json');
  writeFileSync(file, saved);
  for (const [method, body] of [['GET'], ['PUT', { camera: said.camera, base: '' }]] as const) {
    expect(await ask(method, 'camera', body)).toMatchObject({
      status: 400,
      said: { message: expect.stringMatching(NO_UTF8) },
    });
  }
  expect(readFileSync(file).equals(saved)).toBe(true);
});

it('of two cameras that stand on the same one, one is written and the other is told of it', async () => {
  const { folder, ask } = await hedge();
  const { said } = await ask('GET', 'camera');
  const named = (name: string) => ({ camera: { ...said.camera, name }, base: said.revision });
  const answers = await Promise.all(['post', 'shed'].map((name) => ask('PUT', 'camera', named(name))));
  expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
  const written = JSON.parse(readFileSync(join(folder, 'camera.json'), 'utf8')) as { name: string };
  for (const answer of answers) expect(answer.said.camera.name).toBe(written.name);
});

it('labels that are taken away are no more, whatever asks', async () => {
  const { labels, ask } = await hedge();
  const none = { labels: null, revision: '' };
  await ask('POST', 'clips/hedge/open');
  rmSync(labels);
  expect(await ask('GET', 'clips/hedge/labels')).toMatchObject({ said: none });
  const { said } = await ask('POST', 'clips/hedge/open');
  expect(said.result.labels).toMatchObject(none);
  const tuned = await ask('POST', 'tune', {
    clips: ['hedge'],
    wanted: { worth: 10 },
    now: null,
    recordedOnly: true,
  });
  expect(tuned.said.problem.message).toMatch(/hedge.*label/);
});

it.each(['diagnosis', 'masking'])(
  'the answer to %s is another once the description gives the clip other times',
  async (what) => {
    const { folder, ask } = await hedge();
    const sweeps = (k: number) => (k % 9 < 4 ? { x: (2 * k) % 50, y: 20, size: 8, level: 180 } : null);
    writeFileSync(join(folder, 'camera.json'), JSON.stringify(smallCamera));
    await writeClip(join(folder, 'pond'), drawFrames(60, sweeps, 'times'), null, { rate: 5 });
    const settings = { version: 1, threshold: 30, minimumArea: 4, cooldown: 1 };
    const answer = async () => {
      const labels = { version: 1, visits: [] };
      const { said } = await ask('POST', `clips/pond/${what}`, { settings, labels });
      expect(said.result).toBeDefined();
      return said.result.explained?.map(({ time }: { time: number }) => time) ?? said.result.without;
    };
    const before = await answer();
    const description = { version: 1, frames: 'frames/*.png', rate: 2 };
    writeFileSync(join(folder, 'pond', 'clip.json'), JSON.stringify(description));
    expect(await answer()).not.toEqual(before);
  },
);

it.each([
  ['{ "labels": ', 'what is sent: not valid JSON'],
  [
    '{ "labels": { "version": 1, "visits": [{ "start": NaN, "end": 1 }] }, "base": "" }',
    'what is sent: not valid JSON',
  ],
  [
    '{ "labels": { "version": 1, "visits": [{ "start": 0, "end": 1e999 }] }, "base": "" }',
    'what is sent: labels.visits[0].end: expected ',
  ],
  ['{ "labels": { "version": 1, "visits": [] } }', 'what is sent: base: expected a string, found nothing'],
])('labels that cannot be read are told for what they are: %s', async (body, message) => {
  const { ask } = await hedge();
  const { status, said } = await ask('PUT', 'clips/hedge/labels', body);
  expect([status, said.message]).toEqual([400, expect.stringContaining(message)]);
});

it('a camera has a name', async () => {
  const { ask } = await hedge();
  const { said } = await ask('GET', 'camera');
  for (const name of ['', ' ']) {
    const camera = { ...said.camera, name };
    expect(await ask('PUT', 'camera', { camera, base: '' })).toMatchObject({
      status: 400,
      said: { message: `camera.json: name: expected a name, found "${name}"` },
    });
  }
});
