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
import { Cache } from '../../src/store/cache.js';
import { newSecret } from '../../src/workbench/guard.js';
import { columnsFrom } from '../../src/workbench/page/worker/columns.js';
import { replay } from '../../src/workbench/page/worker/replay.js';
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

/** The evidence of a clip as the page gets it. */
async function evidenceFrom(address: string, id: string) {
  const response = await fetch(`${address}api/clips/${id}/evidence`);
  expect(response.status).toBe(200);
  return columnsFrom(await response.arrayBuffer());
}

/** What the page shows is what `perchmark replay --json` gives, for any position of the dials. */
async function agree(clip: Clip, camera: Camera, address: string, id: string, cache: Cache, runs: number) {
  const evidence = await evidenceFrom(address, id);
  await fc.assert(
    fc.asyncProperty(anyControls(camera), async (controls) => {
      const settings = resolveSettings({ version: 1, controls }, camera, 'the dials');
      const told = replayDocument(await replayJob({ clips: [clip], camera, settings }, { cache })).clips[0]!;
      const shown = replay(evidence, camera, settings, clip.labels, clip.seconds);
      // The page's evidence holds nothing of visits' boxes, so it says nothing of luck.
      expect(shown.score).toEqual({ ...told.score, byLuck: null });
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

it.each([
  ['with labels', labels, 'region'],
  ['without labels', null, 'region'],
  ['of all that changed', labels, 'changed'],
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
