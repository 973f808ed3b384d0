import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Jimp } from 'jimp';
import { parseHTML } from 'linkedom';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { openClip } from '../../src/clip/open.js';
import { openPorts } from '../../src/jobs/ports.js';
import { drawPictures } from '../../src/report/pictures.js';
import { reportOf } from '../../src/report/report.js';
import type { Shot } from '../../src/report/shots.js';
import type { Labels } from '../../src/score/labels.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';

const dir = mkdtempSync(join(tmpdir(), 'perchmark-report-'));
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

afterAll(() => rmSync(dir, { recursive: true, force: true }));

// A square of 8 by 8 jumps in at frame 21 and away at frame 35; another flashes up at frame 60.
beforeAll(async () => {
  const frames = drawFrames(
    100,
    (k) =>
      k >= 21 && k < 35
        ? { x: 40, y: 20, size: 8, level: 200 }
        : k === 60
          ? { x: 8, y: 8, size: 6, level: 20 }
          : null,
    'report',
  );
  await writeClip(join(dir, 'labelled'), frames, labels);
  await writeClip(join(dir, 'bare'), frames, null);
});

async function written(name: string, by: Camera = camera): Promise<string> {
  const clip = await openClip(join(dir, name), { cache });
  return reportOf({ camera: by, groups: [{ settings, clips: [{ clip }] }] }, await openPorts({ cache }));
}

async function page(name: string, by: Camera = camera): Promise<Document> {
  return parseHTML(await written(name, by)).document;
}

function pictured(document: Document): string[] {
  return [...document.querySelectorAll('.pictures figcaption')].map((c) => c.textContent.trim());
}

test('a report shows what was photographed, what shows nothing and what was missed', async () => {
  const document = await page('labelled');
  expect([...document.querySelectorAll('h4')].map((h) => h.textContent)).toEqual([
    'Photos it would have taken of animals',
    'Photos that show nothing',
    'Visits it missed',
  ]);
  expect(pictured(document)).toEqual([
    '0:04.2, photo 0:04.6, wren',
    '0:12.0, photo 0:12.4',
    '0:14.0 to 0:16.0, wood mouse',
  ]);
});

test('without labels every photo is shown and none is judged', async () => {
  const document = await page('bare');
  expect([...document.querySelectorAll('h4')].map((h) => h.textContent)).toEqual([
    'Photos it would have taken',
  ]);
  expect(document.body.textContent).toContain('It has no labels');
});

test('where the reference depends on the triggers the report says why there is no area', async () => {
  const frozen = cameraSchema.parse({
    ...smallCamera,
    reference: { kind: 'previous', lag: 1, whileBusy: 'frozen' },
  });
  const document = await page('labelled', frozen);
  expect(document.body.textContent).toContain('depends on its triggers, so the area is not drawn');
});

test('the same clip gives the same bytes', async () => {
  expect(await written('labelled')).toBe(await written('labelled'));
});

const shot: Shot = { frame: 24, trigger: 4.2, caption: '', box: null, privacy: { kind: 'nobody' } };

async function pixelsOf(shots: Shot[], by: Camera = camera): Promise<Uint8Array[]> {
  const clip = await openClip(join(dir, 'labelled'), { cache });
  const pictures = await drawPictures(clip, by, shots, { mask: null, threshold: 32 });
  return Promise.all(
    pictures.map(async ({ address }) => {
      const image = await Jimp.fromBuffer(Buffer.from(address.split(',')[1]!, 'base64'));
      return Uint8Array.from({ length: 64 * 48 }, (_, i) => image.bitmap.data[4 * i]!);
    }),
  );
}

/** Where two pictures differ by more than compression makes them. */
function differing(a: Uint8Array, b: Uint8Array): { x: number; y: number }[] {
  return [...a.keys()]
    .filter((i) => Math.abs(a[i]! - b[i]!) > 60)
    .map((i) => ({ x: i % 64, y: Math.floor(i / 64) }));
}

const average = cameraSchema.parse({ ...smallCamera, reference: { kind: 'average', seconds: 0.6 } });

test.each([
  ['the previous frame', camera],
  ['an average', average],
])('the mark lies where it fired, against %s', async (_, by) => {
  const [plain, hatched] = await pixelsOf([{ ...shot, trigger: null }, shot], by);
  const places = differing(plain as Uint8Array, hatched as Uint8Array);
  expect(places.length).toBeGreaterThan(10);
  // The square lies at 40 to 47, 20 to 27; smoothing spreads it by one pixel, its outline lies around that, and compression
  // rings within blocks of 8.
  for (const { x, y } of places) expect([x >= 32 && x <= 55, y >= 12 && y <= 35]).toEqual([true, true]);
});

test('a person in the picture is made unrecognisable', async () => {
  const privacy = { kind: 'blur', boxes: [[0.6, 0.4, 0.15, 0.2]] } as const;
  const bare = { ...shot, trigger: null };
  const [plain, blurred] = await pixelsOf([bare, { ...bare, privacy }]);
  // Part of the bright square shared out over its surroundings.
  expect(differing(plain as Uint8Array, blurred as Uint8Array).length).toBeGreaterThan(10);
});
