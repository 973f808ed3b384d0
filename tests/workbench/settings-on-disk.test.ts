import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { WorkspaceInfo } from '../../src/workbench/protocol.js';
import { scratch, served } from '../support/workbench.js';

const dials = { version: 1, controls: { sensitivity: 5 } };

/** What the page is told of a folder that holds these files. */
async function told(
  files: Record<string, object | string | Buffer>,
): Promise<{ folder: string; info: WorkspaceInfo }> {
  const folder = scratch();
  for (const [name, content] of Object.entries(files)) {
    const isText = typeof content === 'string' || Buffer.isBuffer(content);
    writeFileSync(join(folder, name), isText ? content : JSON.stringify(content));
  }
  const address = await served(folder);
  return { folder, info: (await (await fetch(`${address}api/workspace`)).json()) as WorkspaceInfo };
}

it.each([
  [
    'a field that is mistyped',
    { version: 1, control: { sensitivity: 5 } },
    /unknown field \(did you mean 'controls'\?\)/,
  ],
  ['a value that is none', { version: 1, threshold: 'low' }, /threshold: expected a number/],
  ['no version', { controls: { sensitivity: 5 } }, /version: expected/],
  ['a comma too many', '{ "version": 1, "controls": { "sensitivity": 5, } }', /not valid JSON/],
  [
    'another encoding',
    Buffer.from('{ "version": 1, "controls": { "n\u00e4he": 5 } }', 'latin1'),
    /expected UTF-8/,
  ],
])('settings with %s are told of', async (_, content, said) => {
  const { folder, info } = await told({ 'good.json': dials, 'windy.json': content });
  expect(info.settings.map(({ name }) => name)).toEqual(['good']);
  expect(info.problems).toEqual([expect.stringMatching(said)]);
  expect(info.problems[0]).toContain(join(folder, 'windy.json'));
});

it('files of other kinds are passed over', async () => {
  const { info } = await told({
    'shed-camera.json': { version: 1, name: 'shed', analysis: {}, controls: {} },
    'suite.json': { version: 1, clips: ['hedge'], settings: 'good.json', camera: 'shed-camera.json' },
    'hedge.labels.json': { version: 1, visits: [] },
    'package.json': { name: 'garden', version: '1.0.0', scripts: {} },
    'list.json': '[1, 2]',
    'notes.json': 'no JSON at all',
    'empty.json': '',
  });
  expect([info.settings, info.problems]).toEqual([[], []]);
});

it('settings that a link takes out of the folder are refused as all else is', async () => {
  const outside = join(scratch(), 'peek.json');
  writeFileSync(outside, JSON.stringify(dials));
  const folder = scratch();
  mkdirSync(join(folder, 'kept'));
  writeFileSync(join(folder, 'kept', 'own.json'), JSON.stringify(dials));
  symlinkSync(outside, join(folder, 'peek.json'));
  symlinkSync(join(folder, 'kept', 'own.json'), join(folder, 'linked.json'));
  const address = await served(folder);
  const info = (await (await fetch(`${address}api/workspace`)).json()) as WorkspaceInfo;
  expect(info.settings.map(({ name }) => name)).toEqual(['linked']);
  expect(info.problems).toEqual([
    expect.stringMatching(/peek\.json: this is a link that leads out of the opened folder/),
  ]);
});
