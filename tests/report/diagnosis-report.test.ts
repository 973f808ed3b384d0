import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseHTML } from 'linkedom';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { photosFor } from '../../src/camera/timing.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import type { ClipDiagnosis, Diagnosis } from '../../src/diagnose/diagnosis.js';
import { openPorts } from '../../src/jobs/ports.js';
import { reportOf } from '../../src/report/report.js';
import type { Labels } from '../../src/score/labels.js';
import { judgeAll } from '../../src/score/replayed.js';
import { truthOf } from '../../src/score/truth.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';

const dir = mkdtempSync(join(tmpdir(), 'perchmark-diagnosed-'));
const cache = new Cache(join(dir, 'cache'));
const camera = cameraSchema.parse(smallCamera);
const settings = { threshold: 32, minimumArea: 16, mostChanged: 64 * 48, persistence: 1, cooldown: 4 };
const labels: Labels = {
  version: 1,
  visits: [
    { start: 4, end: 7, type: 'animal', name: 'wren' },
    { start: 14, end: 16, type: 'animal', name: 'wood mouse', box: [0.1, 0.1, 0.2, 0.2] },
  ],
};

// A square jumps in at 4.2 s and away at 7 s; another flashes up at 12 s, and fires falsely.
beforeAll(async () => {
  const square = { x: 40, y: 20, size: 8, level: 200 };
  const flash = { x: 8, y: 8, size: 6, level: 20 };
  const frames = drawFrames(100, (k) => (k >= 21 && k < 35 ? square : k === 60 ? flash : null), 'told');
  await writeClip(join(dir, 'labelled'), frames, labels);
  await writeClip(join(dir, 'bare'), frames, null);
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

function diagnosed(clip: Clip, times: readonly number[]): ClipDiagnosis {
  const judged = judgeAll(
    times,
    (t) => photosFor(camera, t),
    clip.labels && truthOf(clip.labels, clip.seconds),
  );
  const looked = judged.triggers.filter(({ verdict }) => verdict === 'false' || verdict === null);
  return {
    clip: clip.dir,
    seconds: clip.seconds,
    judged,
    byLuck: [],
    simulated: false,
    explained: looked.map(({ time }) => ({
      time,
      cause: 'insect',
      probability: 0.8,
      evidence: 'gone within one frame',
      box: [0.125, 0.17, 0.1, 0.13],
    })),
    missed: judged.visits.flatMap(({ start, end, caught, name }, visit) =>
      caught
        ? []
        : [
            {
              visit,
              start,
              end,
              name: name ?? null,
              why: 'too faint' as const,
              evidence: 'no pixel changed',
              needs: null,
            },
          ],
    ),
    places: { columns: 4, rows: 3, explained: new Array(12).fill(1), animals: new Array(12).fill(0) },
  };
}

async function page(name: string): Promise<Document> {
  const clip = await openClip(join(dir, name), { cache });
  const times = [4.2, 12];
  const diagnosis: Diagnosis = { clips: [diagnosed(clip, times)], cures: [], notes: [] };
  const parts = { camera, groups: [{ settings, clips: [{ clip, triggers: times }] }], diagnosis };
  return parseHTML(await reportOf(parts, await openPorts({ cache }))).document;
}

function captions(document: Document): (string | undefined)[] {
  return [...document.querySelectorAll('.pictures figcaption')].map((c) => c.textContent?.trim());
}

test('what fired falsely and what was missed is pictured once, with its reason', async () => {
  expect(captions(await page('labelled'))).toEqual([
    '0:12.0: insect near the lens, 80 %. Gone within one frame.',
    '0:14.0 to 0:16.0, wood mouse: too faint',
    '0:04.2, photo 0:04.6, wren',
  ]);
});

test('without labels every trigger is pictured once, as explained', async () => {
  const document = await page('bare');
  expect(captions(document)).toEqual([
    '0:04.2: insect near the lens, 80 %. Gone within one frame.',
    '0:12.0: insect near the lens, 80 %. Gone within one frame.',
  ]);
});

test('both maps lie on one picture of the scene', async () => {
  const document = await page('labelled');
  expect(document.querySelectorAll('image')).toHaveLength(1);
  expect([...document.querySelectorAll('use')].map((use) => use.getAttribute('href'))).toEqual([
    '#backdrop-1',
    '#backdrop-1',
  ]);
});
