import { renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { columnsFrom } from '../../src/workbench/page/worker/columns.js';
import type { ClipOpened, EvidenceReady } from '../../src/workbench/protocol.js';
import { linesOf, post, resultOf } from '../support/asked.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

/** A flash of 8 x 8 pixels at one frame, in the left half. */
const flash = (at: number) => (k: number) => (k === at ? { x: 8, y: 20, size: 8, level: 200 } : null);
const leftHalf = [
  [
    [0, 0],
    [0.5, 0],
    [0.5, 1],
    [0, 1],
  ],
];

async function folderWith(at = 5, camera: object = smallCamera, mask?: typeof leftHalf): Promise<string> {
  const folder = scratch();
  await writeClip(join(folder, 'hedge'), drawFrames(12, flash(at), 'evidence', 0), {
    version: 1,
    visits: [],
    ...(mask && { mask }),
  });
  writeFileSync(
    join(folder, 'camera.json'),
    JSON.stringify({ ...camera, analysis: { ...smallCamera.analysis, smooth: 0 } }),
  );
  return folder;
}

async function columns(address: string, body?: object) {
  const ready = await resultOf<EvidenceReady>(await post(`${address}api/clips/hedge/evidence`, body));
  const answer = await fetch(address + ready.address);
  expect(answer.status).toBe(200);
  return columnsFrom(await answer.arrayBuffer());
}

it('gives what changed at every frame and every level that the dial reaches', async () => {
  const found = await columns(await served(await folderWith()));
  expect(found.levels).toEqual([4, 18, 32, 46, 60]);
  expect([...found.times].slice(0, 3)).toEqual([0, 0.2, 0.4]);
  const flashes = [0, 0, 0, 0, 0, 64, 64, 0, 0, 0, 0, 0];
  for (const level of found.levels) {
    expect([...found.changed.get(level)!]).toEqual(flashes);
    expect([...found.region.get(level)!]).toEqual(flashes);
  }
});

it('takes a mask that is not saved, in place of the one in the labels', async () => {
  const address = await served(await folderWith(5, smallCamera, leftHalf));
  const under = async (body?: object) => Math.max(...(await columns(address, body)).changed.get(4)!);
  expect(await under()).toBe(0);
  expect(await under({ mask: [] })).toBe(64);
  expect(await under({ mask: leftHalf })).toBe(0);
});

it.each([
  [
    {
      mask: [
        [
          [0, 0],
          [2, 0],
          [1, 1],
        ],
      ],
    },
    /mask\[0\]\[1\]\[0\]: expected a fraction/,
  ],
  [{ mask: [[[0, 0]]] }, /mask/],
  [{ mosk: [] }, /mosk/],
])('refuses %j in one line', async (body, says) => {
  const answer = await post(`${await served(await folderWith())}api/clips/hedge/evidence`, body);
  expect(answer.status).toBe(400);
  expect(((await answer.json()) as { message: string }).message).toMatch(says);
});

it('lays out a dial of 255 levels', async () => {
  const dial = { sets: 'threshold', from: 1, to: 255, step: 1, gives: [1, 255] };
  const camera = { ...smallCamera, controls: { ...smallCamera.controls, sensitivity: dial } };
  const found = await columns(await served(await folderWith(5, camera)));
  expect(found.levels).toHaveLength(255);
  // The flash is a hundred levels above its ground.
  expect([1, 33, 100, 101, 255].map((level) => found.region.get(level)![5])).toEqual([64, 64, 64, 0, 0]);
});

it('reads a clip anew once it is another, and tells where it cannot', async () => {
  const folder = await folderWith(5);
  const address = await served(folder);
  const changed = async () => [...(await columns(address)).changed.get(4)!].indexOf(64);
  expect(await changed()).toBe(5);
  const open = async () => resultOf<ClipOpened>(await post(`${address}api/clips/hedge/open`));
  const { version } = await open();
  expect((await open()).version).toBe(version);

  renameSync(join(folder, 'hedge', 'frames'), join(folder, 'hedge', 'old'));
  await writeClip(join(folder, 'hedge'), drawFrames(12, flash(8), 'evidence', 0), null);
  expect(await changed()).toBe(8);
  expect((await open()).version).not.toBe(version);

  writeFileSync(join(folder, 'hedge', 'clip.json'), '{');
  const answer = await fetch(`${address}api/clips/hedge/frames/1`);
  expect(answer.status).toBe(400);
  expect(((await answer.json()) as { message: string }).message).toMatch(/clip\.json: not valid JSON/);
  expect((await linesOf(await post(`${address}api/clips/hedge/open`))).at(-1)).toMatchObject({
    problem: { code: 'not-json' },
  });
});

it('tells what is wrong with the camera of a folder, and shows its clips all the same', async () => {
  const folder = await folderWith();
  writeFileSync(join(folder, 'camera.json'), '{ "version": 2 }');
  const answer = await fetch(`${await served(folder)}api/workspace`);
  expect(await answer.json()).toMatchObject({
    cameraKept: false,
    clips: [{ name: 'hedge', problem: null }],
    problems: [expect.stringMatching(/camera\.json: version/)],
  });
});

it.each(['evidence', 'within'])('%s refuses a mask with a corner off the frame', async (what) => {
  const address = await served(await folderWith());
  const mask = [
    [
      [0, 0],
      [1e9, 0],
      [0, 1],
    ],
  ];
  const answer = await post(`${address}api/clips/hedge/${what}`, {
    mask,
    ...(what === 'within' && { labels: { version: 1, visits: [] } }),
  });
  expect(await answer.text()).toContain(`${what}: mask[0][1][0]: expected a fraction of the frame`);
});
