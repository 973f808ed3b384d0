import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { LabelsState } from '../../src/workbench/protocol.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { start } from '../support/program.js';
import { scratch } from '../support/workbench.js';

/** Edits that one client makes. */
const EDITS = 40;

it('two programs on one folder lose no edit that either said was saved', async () => {
  const folder = scratch();
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(6, () => null, 'two servers'),
    null,
  );
  const [one, other] = await Promise.all([start(folder), start(folder)]);
  const edit = async (address: string, who: string) => {
    const url = `${address}api/clips/hedge/labels`;
    for (let i = 0; i < EDITS; i++) {
      for (let status = 409; status !== 200; ) {
        const { labels, revision } = (await (await fetch(url)).json()) as LabelsState;
        const visits = [...(labels?.visits ?? []), { start: 0, end: 1, name: `${who}${i}` }];
        const body = JSON.stringify({ labels: { version: 1, visits }, base: revision });
        status = (await fetch(url, { method: 'PUT', body })).status;
        expect([200, 409]).toContain(status);
      }
    }
  };
  await Promise.all([edit(one.address, 'a'), edit(other.address, 'b'), edit(one.address, 'c')]);
  const { visits } = JSON.parse(readFileSync(join(folder, 'hedge', 'labels.json'), 'utf8')) as {
    visits: { name: string }[];
  };
  const expected = ['a', 'b', 'c'].flatMap((who) => Array.from({ length: EDITS }, (_, i) => `${who}${i}`));
  expect(visits.map(({ name }) => name).sort()).toEqual(expected.sort());
});
