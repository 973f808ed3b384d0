import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { expect, it, onTestFinished } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { positions } from '../../src/camera/dials.js';
import { resolveSettings } from '../../src/camera/settings.js';
import type { Clip } from '../../src/clip/open.js';
import { openClips, replay as replayJob } from '../../src/jobs/index.js';
import { replayDocument } from '../../src/jobs/replay.js';
import type { Labels } from '../../src/score/labels.js';
import { Cache } from '../../src/store/cache.js';
import { newSecret } from '../../src/workbench/guard.js';
import { columnsFrom } from '../../src/workbench/page/worker/columns.js';
import { replay } from '../../src/workbench/page/worker/replay.js';
import { withinFrom } from '../../src/workbench/page/worker/within.js';
import { serveWorkbench } from '../../src/workbench/serve.js';
import { Workspace } from '../../src/workbench/workspace.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

/** Where each dial may stand. */
function anyControls(camera: Camera): fc.Arbitrary<Record<string, number>> {
  const dials = Object.entries(camera.controls).map(([name, dial]) => [
    name,
    fc.constantFrom(...positions(dial)),
  ]);
  return fc.record(Object.fromEntries(dials) as Record<string, fc.Arbitrary<number>>);
}

/** The evidence of a clip as the page gets it, and how much changed within the boxes of its visits. */
async function evidenceFrom(address: string, id: string, labels: Labels | null) {
  const response = await fetch(`${address}api/clips/${id}/evidence`);
  expect(response.status).toBe(200);
  const evidence = columnsFrom(await response.arrayBuffer());
  if (!labels) return { evidence, within: null };
  const body = JSON.stringify({ labels });
  const boxes = await fetch(`${address}api/clips/${id}/within`, { method: 'POST', body });
  expect([200, 204]).toContain(boxes.status);
  return { evidence, within: boxes.status === 204 ? null : withinFrom(await boxes.arrayBuffer()) };
}

/** What the page shows is what `perchmark replay --json` gives, for any position of the dials. */
async function agree(clip: Clip, camera: Camera, address: string, id: string, cache: Cache, runs: number) {
  const { evidence, within } = await evidenceFrom(address, id, clip.labels);
  await fc.assert(
    fc.asyncProperty(anyControls(camera), async (controls) => {
      const settings = resolveSettings({ version: 1, controls }, camera, 'the dials');
      const told = replayDocument(await replayJob({ clips: [clip], camera, settings }, { cache })).clips[0]!;
      const shown = replay(evidence, camera, settings, clip.labels, clip.seconds, within);
      expect(shown.score).toEqual(told.score);
      expect(shown.triggers).toEqual(told.triggers);
      expect(shown.visits.map(({ start, end, caught }) => ({ start, end, caught }))).toEqual(told.visits);
    }),
    { numRuns: runs },
  );
}

const walks = (k: number) =>
  (k >= 20 && k < 40) || (k >= 70 && k < 75) ? { x: (2 * k) % 50, y: 20, size: 6, level: 150 } : null;
const labels = {
  version: 1,
  reviewed: [{ start: 0, end: 18 }],
  visits: [
    { start: 4, end: 8, name: 'wren' },
    { start: 13.9, end: 15 },
    { start: 16, end: 16.5, type: 'human' },
  ],
  ignored: [{ start: 0, end: 0.6 }],
  mask: [
    [
      [0, 0],
      [0.1, 0],
      [0.1, 1],
      [0, 1],
    ],
  ],
};

/** In one box the square is seen, in the other it is not, so that it is caught by luck. */
const boxed = {
  ...labels,
  visits: labels.visits.map((visit, i) => ({ ...visit, box: i === 0 ? [0, 0.3, 1, 0.4] : [0, 0.7, 1, 0.3] })),
};

it.each([
  ['with labels', labels, 'region'],
  ['without labels', null, 'region'],
  ['of all that changed', labels, 'changed'],
  ['with boxes', boxed, 'region'],
  ['with boxes, of all that changed', boxed, 'changed'],
] as const)('the worker replays a drawn clip %s as the program does', async (_, given, area) => {
  const folder = scratch();
  const camera = cameraSchema.parse({ ...smallCamera, area, burst: { photos: 3, interval: 0.5 } });
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(camera));
  const dir = await writeClip(join(folder, 'hedge'), drawFrames(100, walks, 'agrees', 9), given);
  const cache = new Cache(scratch());
  const [clip] = await openClips([dir], { cache });
  await agree(clip!, camera, await served(folder, cache), 'hedge', cache, 40);
});

it('and a clip of the demo', async () => {
  const scene = fileURLToPath(new URL('../../clips/log-pile-calm.json', import.meta.url));
  // Drawn clips are kept where the program keeps them; what an owner has beside the demo is not looked at.
  const cache = new Cache();
  const [clip] = await openClips([scene], { cache });
  const workspace = await Workspace.open(undefined, { cache: new Cache(scratch()) });
  const nothing = () => undefined;
  const ports = { cache, onPhase: nothing, onProgress: nothing, onWarning: nothing };
  const page = fileURLToPath(new URL('../../dist/workbench/page/', import.meta.url));
  const { address, close } = await serveWorkbench(
    { workspace, ports },
    { port: 0, secret: newSecret() },
    page,
  );
  onTestFinished(close);
  await agree(clip!, defaultCamera, address, 'log-pile-calm', cache, 40);
});
